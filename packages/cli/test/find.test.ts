import { copyFile, mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { basename, join, relative } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { temporaryFolder } from "../../take/test/render-take.js";
import { writeRawTake } from "../../take/test/write-raw-take.js";
import { findOptionKeys, findOptions } from "../src/find/find-options.js";
import { runCaptured } from "./capture.js";

describe("frontpace find", async () => {
  const root = await temporaryFolder();
  const file = join(root, "tile.bin");
  const front = { frame: 4100, pixelsPerFrame: 1, stays: true };
  const stripe = { frame: 1500, pixelsPerFrame: 1.5, stays: false, contrast: 40 };
  const raw = await writeRawTake(file, { frames: 6000, events: [front, stripe] });
  const still = join(root, "still.bin");
  await writeRawTake(still, { frames: 2500 });

  it("prints the events strongest first with frames, time and kind, and writes them and the picture", async () => {
    const { code, stdout, stderr } = await runCaptured(["find", file, "--raw", raw, "--rate", "500k"]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(stdout).toMatch(
      /^looked at: tile\.bin, 6000 frames of 64 x 12 px, 8 bit, numbers 0 to 5999; \d+ of them read$/m,
    );
    const rows = [
      ...stdout.matchAll(
        /^ {2}(\d) +(\d+) to (\d+) +(\d\.\d{6}) s +(\d+) frames, (\d+) us +(\w+) +(\d+) +to the frame$/gm,
      ),
    ];
    expect(rows.map(([, number, , , , , , kind]) => [number, kind])).toEqual([
      ["1", "stays"],
      ["2", "passes"],
    ]);
    for (const [i, entered] of [4100, 1500].entries()) {
      const [, , first, last, time, frames, microseconds] = rows[i].map(Number);
      expect(Math.abs(first - entered)).toBeLessThanOrEqual(3);
      expect(time).toBeCloseTo(first / 5e5, 6);
      expect(frames).toBe(last - first + 1);
      expect(microseconds).toBe(2 * frames);
    }
    expect(stdout).toMatch(/^may have been missed: .* lasts less than 32 frames \(64 us\)/m);

    const out = join(root, "tile-frontpace");
    expect((await readdir(out)).sort()).toEqual(["activity.svg", "events.json"]);
    const picture = await readFile(join(out, "activity.svg"), "utf8");
    expect(picture).toContain("<title>tile.bin: 2 events");
    expect(picture).toContain(`1: frames ${rows[0][2]} to ${rows[0][3]}, stays`);
  });

  it("says which part of the picture was left out", async () => {
    const barred = join(root, "barred.bin");
    const layout = await writeRawTake(barred, { frames: 1200, rows: 48, bar: true });
    const { code, stdout } = await runCaptured([
      "find",
      barred,
      "--raw",
      layout,
      "--out",
      join(root, "barred"),
    ]);
    expect(code).toBe(3);
    expect(stdout).toMatch(/^left out: \d+ x \d+ px from \(\d+, \d+\): something changes there/m);
    const whole = await runCaptured(["find", still, "--raw", raw, "--out", join(root, "still")]);
    expect(whole.stdout).not.toContain("left out");
  });

  it("with --json prints events.json and nothing else, the first keys in their order", async () => {
    const out = join(root, "chosen");
    const { code, stdout } = await runCaptured(["find", file, "--raw", raw, "--json", "--out", out]);
    expect(code).toBe(0);
    expect(stdout).toBe(await readFile(join(out, "events.json"), "utf8"));
    expect(stdout).toMatch(
      /^\{\n {2}"format": "frontpace-events",\n {2}"version": 1,\n {2}"frames": 6000,\n {2}"framesRead": \d+,\n {2}"events": \[\n {4}\{\n {6}"firstFrame": 4\d+,\n {6}"lastFrame": 4\d+,\n {6}"kind": "stays",\n {6}"strength": [\d.]+,\n {6}"certainty": "refined"\n {4}\}/,
    );
    const schema = new URL("../../take/schema/events.schema.json", import.meta.url);
    const validate = new Ajv2020({ strict: true }).compile(JSON.parse(await readFile(schema, "utf8")));
    expect(validate(JSON.parse(stdout))).toBe(true);
  });

  it("ends with a caution whether something was found or not, which --quiet leaves out, and nothing else", async () => {
    for (const take of [file, still]) {
      const loud = await runCaptured(["find", take, "--raw", raw]);
      const quiet = await runCaptured(["find", take, "--raw", raw, "--quiet"]);
      const caution = loud.stdout.slice(quiet.stdout.length);
      expect(loud.stdout).toBe(quiet.stdout + caution);
      expect(caution).toMatch(/^\nNot for legal or safety certification: .+\n$/);
      expect(quiet.code).toBe(loud.code);
    }
  });

  it("without a rate gives no times", async () => {
    const { stdout } = await runCaptured(["find", file, "--raw", raw]);
    expect(stdout).toMatch(/^ {2}1 +\d+ to \d+ +\d+ frames +stays +\d+ +to the frame$/m);
    expect(stdout).not.toMatch(/\d (s|ms|us)\b/);
  });

  it("exits 3 where nothing happens and says what was looked for and the weakest event it would have seen", async () => {
    const { code, stdout, stderr } = await runCaptured(["find", still, "--raw", raw, "--shortest", "20"]);
    expect({ code, stderr }).toEqual({ code: 3, stderr: "" });
    const text = stdout.replace(/\s+/g, " ");
    expect(text).toContain("events: none found: 2500 frames");
    expect(text).toContain("lasts at least 20 frames");
    expect(text).toMatch(
      /the weakest event that would have been seen changes an area of \d+ x \d+ px by [\d.]+ units/,
    );

    const machine = await runCaptured(["find", still, "--raw", raw, "--json"]);
    expect(machine.code).toBe(3);
    expect(JSON.parse(machine.stdout)).toMatchObject({ events: [], notFound: { reason: "no-event" } });
  });

  it("exits 3 where only a lamp is switched on; beside a front the lamp is named as no event, in the picture too", async () => {
    const lit = join(root, "lit.bin");
    const lamp = { frame: 1200, brighter: 40 };
    await writeRawTake(lit, { frames: 3000, lamp });
    const alone = await runCaptured(["find", lit, "--raw", raw]);
    expect(alone.code).toBe(3);
    expect(alone.stdout.replace(/\s+/g, " ")).toContain(
      "the light changes everywhere at once in frame 1200, as when a lamp is switched, which is no event",
    );
    await writeRawTake(lit, { frames: 3000, lamp, events: [{ ...front, frame: 2000 }] });
    const out = join(root, "lit");
    const both = await runCaptured(["find", lit, "--raw", raw, "--out", out]);
    expect(both.code).toBe(0);
    const [, first, last] =
      /^ {2}1 +(\d+) to (\d+) +\d+ frames +stays +\d+ +to the frame\nno event: /m.exec(both.stdout) ?? [];
    expect(Math.abs(Number(first) - 2000)).toBeLessThanOrEqual(3);
    expect(Math.abs(Number(last) - 2068)).toBeLessThanOrEqual(5);
    expect(both.stdout.replace(/\s+/g, " ")).toContain(
      "no event: the light changes everywhere at once in frame 1200, to 167 % of the brightness before, and stays",
    );
    expect(await readFile(join(out, "activity.svg"), "utf8")).toContain('class="light"');
  });

  it("says that what passes was not looked for, until --thorough asks for it", async () => {
    const long = join(root, "long.bin");
    const events = [front, { ...stripe, contrast: 100 }];
    const layout = await writeRawTake(long, { frames: 18_000, rows: 4, columns: 24, events });
    const argv = ["find", long, "--raw", layout, "--shortest", "8"];
    const plain = await runCaptured(argv);
    expect(plain.stdout).toMatch(/^not looked for: what leaves nothing behind/m);
    const thorough = await runCaptured([...argv, "--thorough"]);
    expect(thorough.stdout).toMatch(/^ {2}\d +15\d\d to 15\d\d +\d+ frames +passes /m);
    expect(thorough.stdout).toMatch(/^may have been missed: /m);
  });

  it("prints what the frame loader warns of", async () => {
    const cut = join(root, "cut.bin");
    await writeFile(cut, (await readFile(still)).subarray(0, 2400 * 768 + 100));
    const { code, stderr } = await runCaptured(["find", cut, "--raw", raw]);
    expect(code).toBe(3);
    expect(stderr).toMatch(/^warning: truncated: /);
  });

  it("--copy makes a take of its own of the strongest event, which measure measures like the frames in the file", async () => {
    const copy = join(root, "strongest");
    const argv = ["find", file, "--raw", raw, "--rate", "500k+-0", "--margin", "60"];
    const { code, stdout } = await runCaptured([...argv, "--copy", copy]);
    expect(code).toBe(0);
    const [, frames, first, last] =
      /strongest \(event 1: (\d+) frames, numbers (\d+) to (\d+)\)$/m.exec(stdout) ?? [];
    expect(Number(last) - Number(first) + 1).toBe(Number(frames));
    expect(Math.abs(Number(first) - (4100 - 60))).toBeLessThanOrEqual(3);
    expect(JSON.parse(await readFile(join(copy, "take.json"), "utf8"))).toEqual({
      format: "frontpace-take",
      version: 1,
      rateHz: 5e5,
      rateUncertaintyHz: 0,
      copiedFrom: relative(copy, file),
    });
    const scale = ["--scale", "0.2mm+-0", "--json"];
    const [ofCopy, ofFile] = [
      await runCaptured(["measure", copy, ...scale]),
      await runCaptured([
        "measure",
        file,
        "--raw",
        raw,
        ...argv.slice(4, 6),
        "--frames",
        `${first}..${last}`,
        ...scale,
      ]),
    ].map(({ stdout: json }) => JSON.parse(json));
    expect(ofCopy.status).toBe("measured");
    expect(ofCopy.speed).toEqual(ofFile.speed);
    expect(ofCopy.front).toEqual(ofFile.front);
  });

  it("--copy beside the take is no repeat of its event for batch, which says so", async () => {
    const day = join(root, "day");
    await mkdir(day);
    const own = join(day, basename(file));
    await copyFile(file, own);
    const known = { format: "frontpace-take", version: 1, raw, rateHz: 5e5, rateUncertaintyHz: 0 };
    await writeFile(own.replace(/\.\w+$/, ".take.json"), JSON.stringify(known));
    for (const name of ["split", "split again"])
      await runCaptured(["find", own, "--copy", join(day, name), "--out", join(root, "f")]);
    const batch = await runCaptured(["batch", day, "--scale", "0.2mm+-0", "--no-pictures", "--json"]);
    const { takes, repeats } = JSON.parse(batch.stdout);
    const same = takes.filter((take: { sameEventAs: string | null }) => take.sameEventAs !== null);
    const measuredEvent = takes.find(({ take }: { take: string }) => take === basename(own)).speed.value;
    expect(measuredEvent).toBeGreaterThan(0);
    expect(same.map(({ take }: { take: string }) => take)).toEqual(["split", "split again"]);
    expect(batch.stderr).toContain(`split shows frames of the same event as ${basename(own)}`);
    expect(repeats).toEqual([]);
  }, 60_000);

  it("--copy --event copies another one", async () => {
    const copy = join(root, "second");
    const { stdout } = await runCaptured(["find", file, "--raw", raw, "--copy", copy, "--event", "2"]);
    const [, first, last] = /second \(event 2: \d+ frames, numbers (\d+) to (\d+)\)$/m.exec(stdout) ?? [];
    expect(Number(first)).toBeLessThan(1500);
    expect(Number(last)).toBeLessThan(1800);
  });

  it("--json says on standard error what was copied, and the events stay where the copy fails", async () => {
    const out = join(root, "kept");
    const argv = ["find", file, "--raw", raw, "--json", "--out", out];
    const copied = await runCaptured([...argv, "--copy", join(root, "third")]);
    expect(copied.stderr).toMatch(/^copied: .*third \(event 1: \d+ frames, numbers \d+ to \d+\)$/m);
    expect(JSON.parse(copied.stdout).events).toHaveLength(2);
    await rm(out, { recursive: true });
    const failed = await runCaptured([...argv, "--copy", join(root, "fourth"), "--event", "9"]);
    expect(failed.code).toBe(2);
    expect(await readFile(join(out, "events.json"), "utf8")).toBe(copied.stdout);
  });

  it("copies nothing where nothing happens", async () => {
    const { code } = await runCaptured(["find", still, "--raw", raw, "--copy", join(root, "nothing")]);
    expect(code).toBe(3);
    expect(await readdir(root)).not.toContain("nothing");
  });

  const refused: readonly (readonly [readonly string[], string, string])[] = [
    [
      ["--shortest", "0"],
      "invalid-option",
      '--shortest must be a whole number >= 1, for example --shortest 32; got "0"',
    ],
    [
      ["--region", "0,0:5"],
      "invalid-option",
      '--region must be two opposite corners x1,y1:x2,y2 in whole px, for example --region 0,20:1279,51; got "0,0:5"',
    ],
    [["--region", "0,0:64,5"], "region-outside", "--region must lie inside the picture"],
    [["--region", "0,0:6,5", "--path", "0,0:9,0"], "invalid-value", "--region must stand alone"],
    [["--width", "4"], "invalid-value", "--width must come with a path"],
    [["--frames", "0..6000"], "frames-outside", "--frames: lastFrame must lie in the take"],
    [["--rate", "fast"], "invalid-option", "--rate must be frames per second"],
    [["--copy", ""], "invalid-option", "--copy must name a folder"],
    [["--copy", "c", "--event", "0"], "invalid-option", "--event must be a whole number >= 1"],
    [["--copy", "c", "--margin", "-1"], "invalid-option", "--margin must be a whole number >= 0"],
    [["--event", "2"], "invalid-option", "--event goes with --copy"],
    [["--margin", "2"], "invalid-option", "--margin goes with --copy"],
    [["--copy", file], "output-not-writable", `the output folder ${file} cannot be written`],
    [["--copy", root], "copy-not-empty", `the folder for copied frames, ${root}, must be empty or not there`],
    [
      ["--copy", join(root, "c"), "--event", "3"],
      "invalid-option",
      "--event must be one of the 2 that were found, 1 to 2, got 3",
    ],
    [["--out", ""], "invalid-option", "--out must name a folder"],
    [
      ["--copy", join(root, "c"), "--out", join(root, "c", "results")],
      "invalid-option",
      "--copy must name a folder that the results (--out) do not go into",
    ],
  ];
  it.each(refused)("%j exits 2", async (more, code, words) => {
    const before = (await readdir(root)).sort();
    const human = await runCaptured(["find", file, "--raw", raw, ...more]);
    expect(human).toMatchObject({ code: 2, stdout: "" });
    expect(human.stderr).toContain(`error: ${words}`);
    const machine = await runCaptured(["find", file, "--raw", raw, ...more, "--json"]);
    expect(machine).toMatchObject({ code: 2, stderr: "" });
    expect(JSON.parse(machine.stdout)).toEqual({ error: { code, message: expect.stringContaining(words) } });
    expect((await readdir(root)).sort()).toEqual(before);
  });

  it("exits 2 for a take that is not there, or holds no frames", async () => {
    await mkdir(join(root, "empty"));
    expect(await runCaptured(["find", join(root, "none")])).toMatchObject({ code: 2, stdout: "" });
    const { code, stderr } = await runCaptured(["find", join(root, "empty")]);
    expect({ code, stderr }).toEqual({ code: 2, stderr: expect.stringContaining("empty") });
  });

  it("exits 130 when interrupted and writes nothing", async () => {
    const folder = join(root, "interrupted");
    const { code, stdout, stderr } = await runCaptured(["find", file, "--raw", raw, "--out", folder], {
      signal: AbortSignal.abort(),
    });
    expect({ code, stdout }).toEqual({ code: 130, stdout: "" });
    expect(stderr).toContain("interrupted: no file was written");
    expect(await readdir(root)).not.toContain("interrupted");
  });
});

describe("frontpace measure of a long take", async () => {
  const root = await temporaryFolder();
  const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0"];
  const file = join(root, "long.bin");
  const raw = await writeRawTake(file, {
    frames: 2600,
    events: [{ frame: 1800, pixelsPerFrame: 1, stays: true }],
  });

  it("finds the front, prints where, and leaves the picture of the search beside the others", async () => {
    const { code, stdout } = await runCaptured(["measure", file, "--raw", raw, ...known]);
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /^found: frames 180\d to 18\d\d of 2600 \(stays; \d+ read\)\nread: long\.bin, \d+ frames of /,
    );
    const [, speed] = /^speed: ([\d.]+) m\/s/m.exec(stdout) ?? [];
    expect(Math.abs(Number(speed) - 20)).toBeLessThan(0.1);
    const frames = ["frame-after.png", "frame-before.png", "frame-middle.png"];
    const streak = ["search.svg", "streak-samples.png", "streak.png"];
    const files = ["fit.svg", ...frames, "report.html", "result.json", ...streak, "track.csv"];
    expect((await readdir(join(root, "long-frontpace"))).sort()).toEqual(files);
  });

  it("exits 3 where nothing happens, with the picture of the search and no streak of nothing", async () => {
    const still = join(root, "still.bin");
    await writeRawTake(still, { frames: 2600 });
    const { code, stdout, stderr } = await runCaptured(["measure", still, "--raw", raw, ...known]);
    expect({ code, stderr }).toEqual({ code: 3, stderr: "" });
    expect(stdout).toMatch(/^searched: still\.bin, 2600 frames of 64 x 12 px.*; \d+ of them read$/m);
    expect(stdout).toMatch(/^front: none found \(no-event\): 2600 frames were searched for changes/m);
    expect((await readdir(join(root, "still-frontpace"))).sort()).toEqual([
      "report.html",
      "result.json",
      "search.svg",
    ]);
  });
});

describe("findOptions", () => {
  it("reads every option, and every key of the library's options is set by one", async () => {
    const options = findOptions({
      rate: "500k+-0",
      shortest: "7",
      thorough: true,
      path: "1,2:3,4",
      width: "5",
      region: "9,8:7,6",
      frames: "-3..4",
      every: "2",
      transfer: "srgb",
      skipBad: true,
      raw: "4x4:u8",
    });
    expect(options).toEqual({
      rateHz: 5e5,
      rateUncertaintyHz: 0,
      shortestFrames: 7,
      thorough: true,
      path: [
        [1, 2],
        [3, 4],
      ],
      width: 5,
      region: [
        [9, 8],
        [7, 6],
      ],
      firstFrame: -3,
      lastFrame: 4,
      frameStep: 2,
      transfer: "srgb",
      skipBad: true,
      raw: "4x4:u8",
    });
    expect(Object.keys(options).sort()).toEqual(Object.values(findOptionKeys).flat().sort());
  });
});

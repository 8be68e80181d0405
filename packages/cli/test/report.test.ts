import { cp, mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { runCaptured } from "./capture.js";

describe("the page of a take", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(-4, 50), pixelsPerFrame: 2, start: 0 });
  const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];
  const out = join(root, "tile-frontpace");
  await runCaptured(["measure", take, ...known]);

  it("is written by measure, and by report the same bytes when the footage is gone", async () => {
    const page = await readFile(join(out, "report.html"), "utf8");
    expect(page).toMatch(/<h1>The front ran at <strong><data value="[\d.]+">40\.0/);
    expect(page.match(/href="data:image\/png/g)).toHaveLength(4);
    const elsewhere = join(root, "moved");
    await cp(out, elsewhere, { recursive: true });
    await rm(join(elsewhere, "report.html"));
    await rm(take, { recursive: true });
    const { code, stderr, stdout } = await runCaptured(["report", join(elsewhere, "result.json")]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(stdout).toContain("report.html");
    expect(stdout).toContain("People and premises may be visible");
    expect(await readFile(join(elsewhere, "report.html"), "utf8")).toBe(page);
  });

  it("holds no path of this machine", async () => {
    expect(await readFile(join(out, "report.html"), "utf8")).not.toContain(root);
  });

  it("takes a folder, and writes where --out says", async () => {
    const there = join(root, "there");
    expect((await runCaptured(["report", out, "--out", there])).code).toBe(0);
    expect(await readdir(there)).toEqual(["report.html"]);
  });

  it("without its pictures says so on the page and on standard error, and is written", async () => {
    const bare = join(root, "bare");
    await cp(join(out, "result.json"), join(bare, "result.json"));
    const { code, stderr } = await runCaptured(["report", bare]);
    expect(code).toBe(0);
    expect(stderr).toMatch(/no-pictures: .* measure again without --no-pictures/);
    expect(await readFile(join(bare, "report.html"), "utf8")).toContain("are not beside the result");
  });

  it.each([
    ["nothing there", "absent.json", null, /absent\.json/],
    ["no JSON", "broken.json", "{", /broken\.json/],
    ["another format", "other.json", "{}", /other\.json/],
  ])("of %s exits 2, names the file, and writes nothing", async (_, name, text, message) => {
    const folder = join(root, name.replace(".json", ""));
    if (text !== null) {
      await cp(out, folder, { recursive: true });
      await rm(join(folder, "report.html"));
      await writeFile(join(folder, name), text);
    }
    const { code, stderr } = await runCaptured(["report", join(folder, name)]);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
    expect(await readdir(folder).catch(() => [])).not.toContain("report.html");
  });

  it.each([
    ["an empty object", "{}", "but an empty object: give the result.json that frontpace measure wrote"],
    ["a list", "[1]", "but a list: give"],
    ["settings of something else", '{"name":"x","on":true}', "with the keys name, on: give"],
    ["the summary of a batch", '{"format":"frontpace-summary"}', "but the summary of a batch: give one of"],
    ["the events of a search", '{"format":"frontpace-events"}', "a search measures nothing"],
    ["a batch's record of a take", '{"format":"frontpace-batch-take"}', "give the result.json beside it"],
    ["a format that it does not know", '{"format":"constructor"}', 'a file of format "constructor": give'],
    ["a later version", '{"format":"frontpace-result","version":2}', "version 2 of its format"],
  ])("and overlay, compare and plan say of %s what it is and what to give", async (_, text, words) => {
    const file = join(root, "given.json");
    const plan = join(root, "plan.json");
    await writeFile(file, text);
    const modes = join(root, "modes.csv");
    await writeFile(modes, "columns,rows,max_rate\n800,600,100000\n");
    const wish = ["--speed", "1500m/s", "--length", "300mm", "--modes", modes, "--out", root];
    expect((await runCaptured(["plan", ...wish])).stderr).toBe("");
    for (const argv of [
      ["report", file],
      ["overlay", file],
      ["compare", plan, file],
      ["plan", ...wish, "--earlier", file],
    ]) {
      const { code, stderr } = await runCaptured(argv);
      expect(code).toBe(2);
      expect(stderr).toContain("given.json is ");
      expect(stderr).toContain(words);
      expect(stderr).not.toMatch(/schema|Invalid input|discriminator/);
    }
  });

  it.each([
    [
      "a key that is gone",
      (text: string) => text.replace('"bitDepth"', '"depth"'),
      "take.bitDepth is missing",
    ],
    ["a key too many", (text: string) => text.replace("{", '{"sum":1,'), "sum is no key of it"],
    [
      "a value that cannot be",
      (text: string) => text.replace('"measured"', '"seen"'),
      'status cannot be "seen"',
    ],
  ])("says of a result with %s where it was changed", async (_, change, words) => {
    const file = join(root, "changed.json");
    await writeFile(file, change(await readFile(join(out, "result.json"), "utf8")));
    const { code, stderr } = await runCaptured(["report", file]);
    expect(code).toBe(2);
    expect(stderr).toContain(`changed.json is the result of a take, and ${words}`);
    expect(stderr).toContain("make it again with frontpace measure");
  });

  it("of a take's own folder names the one that holds its result", async () => {
    await mkdir(take, { recursive: true });
    const { code, stderr } = await runCaptured(["report", take]);
    expect(code).toBe(2);
    expect(stderr).toContain("tile-frontpace, where it is");
  });
});

describe("measure", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(-4, 50), pixelsPerFrame: 2, start: 0 });
  const argv = ["measure", take, "--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];

  it("--no-report leaves the page out and keeps the pictures that it is made of", async () => {
    await runCaptured(argv);
    await runCaptured([...argv, "--no-report"]);
    const names = await readdir(join(root, "tile-frontpace"));
    expect(names).toContain("frame-middle.png");
    expect(names).not.toContain("report.html");
  });
});

import { cp, readdir, readFile, rm, writeFile } from "node:fs/promises";
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

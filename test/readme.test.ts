import { readdir, readFile, rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { run } from "@frontpace/cli";
import { describe, expect, it } from "vitest";
import { argumentsOf, asShown, SHOWN } from "../scripts/shown-commands.js";

const root = fileURLToPath(new URL("..", import.meta.url));
const readme = await readFile(new URL("../README.md", import.meta.url), "utf8");

/** Commands shown in the README, each with the output shown behind it. */
const shown = [...readme.matchAll(SHOWN)].map(([, , command, output]) => ({
  argv: argumentsOf(command),
  output,
}));

describe("a package's README", () => {
  it.each(["frame-loader", "tracker", "take"])("names every warning of %s", async (name) => {
    const folder = new URL(`../packages/${name}/`, import.meta.url);
    const text = await readFile(new URL("README.md", folder), "utf8");
    const files = (await readdir(new URL("src/", folder), { recursive: true })).filter((file) =>
      file.endsWith(".ts"),
    );
    const sources = await Promise.all(files.map((file) => readFile(new URL(`src/${file}`, folder), "utf8")));
    const codes = [...sources.join("\n").matchAll(/(?:\bcode: |\bwarn\(\s*)"([a-z]+(?:-[a-z]+)*)"/g)].map(
      ([, code]) => code,
    );
    expect(codes.length).toBeGreaterThan(1);
    for (const code of codes) expect(text).toContain(`\`${code}\``);
  });
});

describe("README.md", () => {
  it("shows seven commands with their output", () => {
    expect(shown.map(({ argv }) => argv.slice(0, 2))).toEqual([
      ["measure", "fixtures/cracking-tile"],
      ["measure", "fixtures/nickel-solidification"],
      ["find", "fixtures/long-take/tile.bin"],
      ["calibrate", "fixtures/printed-grid/grid.png"],
      ["plan", "--modes"],
      ["check", "fixtures/dry-run/tile.bin"],
      ["batch", "fixtures/quench-day"],
    ]);
  });

  it.each(shown)("prints what the command prints: $argv.0 $argv.1", async ({ argv, output }) => {
    let printed = "";
    const before = process.cwd();
    process.chdir(root);
    // Nothing is as before.
    if (argv[0] === "batch") await rm(argv[argv.indexOf("--out") + 1], { recursive: true, force: true });
    try {
      const stdout = {
        write(text: string) {
          printed += text;
        },
      };
      const code = await run(argv, { stdout, stderr: { write() {} }, env: {} });
      // One of the takes of the day is damaged.
      expect(code).toBe(argv[0] === "batch" ? 1 : 0);
    } finally {
      process.chdir(before);
    }
    expect(asShown(printed).trim()).toBe(output.trim());
  });

  it("says the mean of the tiles in cold water that the summary has", async () => {
    const file = new URL("../demo-output/quench-day/summary.json", import.meta.url);
    const { repeats } = JSON.parse(await readFile(file, "utf8"));
    const { value, expandedUncertainty } = repeats[0].mean;
    expect(repeats[0]).toMatchObject({ folder: "cold-water", disagreeing: [] });
    expect(readme).toContain(`water it is ${value.toFixed(2)} +- ${expandedUncertainty.toFixed(2)} m/s.`);
  });

  it.each(["measure", "batch", "find", "calibrate"])(
    "names every option of frontpace %s in a table or the list behind it",
    async (name) => {
      let help = "";
      const stdout = {
        write(text: string) {
          help += text;
        },
      };
      await run([name, "--help"], { stdout, stderr: { write() {} }, env: {} });
      const options = [...help.matchAll(/^ {2}(?:-\w, )?(--[a-z-]+)/gm)].map(([, option]) => option);
      expect(options).toContain("--json");
      for (const option of options.filter((name) => name !== "--help"))
        expect(readme).toMatch(new RegExp(`^\\| \`${option}[ \`]`, "m"));
    },
  );

  it("shows both commands that set everything up", () => {
    expect(readme).toContain("npx --yes pnpm@10.34.9 demo");
    expect(readme).toContain("npx --yes pnpm@10.34.9 verify");
  });
});

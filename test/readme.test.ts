import { readdir, readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { run } from "@frontpace/cli";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const readme = await readFile(new URL("../README.md", import.meta.url), "utf8");

/** Commands shown in the README, each with the output shown behind it. */
const shown = [
  ...readme.matchAll(
    /```sh\n(npx[^`]*? frontpace (?:measure|find|plan|calibrate|check) [^`]*?)```\n(?:(?!```)[\s\S])*?```text\n([\s\S]*?)```/g,
  ),
].map(([, command, output]) => ({
  argv: command.replace(/\\\n/g, " ").trim().split(/\s+/).slice(5),
  output,
}));

describe("a package's README", () => {
  it.each(["frame-loader", "tracker", "take"])("names every warning of %s", async (name) => {
    const folder = new URL(`../packages/${name}/`, import.meta.url);
    const text = await readFile(new URL("README.md", folder), "utf8");
    const files = (await readdir(new URL("src/", folder))).filter((file) => file.endsWith(".ts"));
    const sources = await Promise.all(files.map((file) => readFile(new URL(`src/${file}`, folder), "utf8")));
    const codes = [...sources.join("\n").matchAll(/(?:\bcode: |\bwarn\(\s*)"([a-z]+(?:-[a-z]+)*)"/g)].map(
      ([, code]) => code,
    );
    expect(codes.length).toBeGreaterThan(1);
    for (const code of codes) expect(text).toContain(`\`${code}\``);
  });
});

describe("README.md", () => {
  it("shows six commands with their output", () => {
    expect(shown.map(({ argv }) => argv.slice(0, 2))).toEqual([
      ["measure", "fixtures/cracking-tile"],
      ["measure", "fixtures/nickel-solidification"],
      ["find", "fixtures/long-take/tile.bin"],
      ["calibrate", "fixtures/printed-grid/grid.png"],
      ["plan", "--modes"],
      ["check", "fixtures/dry-run/tile.bin"],
    ]);
  });

  it.each(shown)("prints what the command prints: $argv.0 $argv.1", async ({ argv, output }) => {
    let printed = "";
    const before = process.cwd();
    process.chdir(root);
    try {
      const stdout = {
        write(text: string) {
          printed += text;
        },
      };
      expect(await run(argv, { stdout, stderr: { write() {} }, env: {} })).toBe(0);
    } finally {
      process.chdir(before);
    }
    expect(printed.trim()).toBe(output.trim());
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

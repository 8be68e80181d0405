import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { run } from "@frontpace/cli";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const readme = await readFile(new URL("../README.md", import.meta.url), "utf8");

/** Commands shown in the README, each with the output shown behind it. */
const shown = [
  ...readme.matchAll(
    /```sh\n(npx[^`]*? frontpace measure [^`]*?)```\n(?:(?!```)[\s\S])*?```text\n([\s\S]*?)```/g,
  ),
].map(([, command, output]) => ({
  argv: command.replace(/\\\n/g, " ").trim().split(/\s+/).slice(5),
  output,
}));

describe("README.md", () => {
  it("shows two commands with their output", () => {
    expect(shown.map(({ argv }) => argv.slice(0, 2))).toEqual([
      ["measure", "fixtures/cracking-tile"],
      ["measure", "fixtures/nickel-solidification"],
    ]);
  });

  it.each(shown)("prints what the command prints: $argv.1", async ({ argv, output }) => {
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

  it("shows both commands that set everything up", () => {
    expect(readme).toContain("npx --yes pnpm@10.34.9 demo");
    expect(readme).toContain("npx --yes pnpm@10.34.9 verify");
  });
});

import { readFile } from "node:fs/promises";
import { run } from "@frontpace/cli";
import { describe, expect, it } from "vitest";
import { type CodeKind, codesInSource } from "./codes-in-source.js";

const text = await readFile(new URL("../README.md", import.meta.url), "utf8");

/** Rows of the table under a heading: what stands between their bars. */
function rowsUnder(heading: string): string[][] {
  const section = text.split(/^### /m).find((part) => part.startsWith(heading))!;
  return [...section.matchAll(/^\| `.*$/gm)].map(([row]) =>
    row
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

const codesUnder = (heading: string) => rowsUnder(heading).map(([code]) => code.replaceAll("`", ""));

/** What the library that reads the command line says, by a command line that makes it say so. */
const ofCommandLine = [
  ["unknown-command", "mesure --json"],
  ["unknown-option", "measure --json x --speedy"],
  ["missing-argument", "measure --json"],
  ["excess-arguments", "measure --json x y"],
  ["option-missing-argument", "measure --json x --rate"],
] as const;

describe("the codes in README.md", () => {
  const found = codesInSource();

  it.each([
    ["error", "Errors", ofCommandLine.map(([code]) => code)],
    ["warning", "Warnings", []],
    ["not-found", "Why no front was found", []],
  ] as const)(
    "lists every code of kind %s that the sources give away, once and in order, and no other",
    (kind: CodeKind, heading, more) => {
      const given = found[kind];
      expect(given.size).toBeGreaterThan(9);
      expect(codesUnder(heading)).toEqual([...new Set([...given, ...more])].sort());
    },
  );

  it.each(["Errors", "Warnings", "Why no front was found"])(
    "says of every code under %s what it means and what to do",
    (heading) => {
      for (const [code, meaning, advice, ...rest] of rowsUnder(heading)) {
        expect(rest, code).toEqual([]);
        expect(meaning.length, code).toBeGreaterThan(10);
        expect(advice.length, code).toBeGreaterThan(4);
      }
    },
  );

  it.each(ofCommandLine)("has the code %s of the command line: %s", async (code, line) => {
    let printed = "";
    const stdout = {
      write(part: string) {
        printed += part;
      },
    };
    expect(await run(line.split(" "), { stdout, stderr: { write() {} } })).toBe(2);
    expect(JSON.parse(printed).error.code).toBe(code);
  });
});

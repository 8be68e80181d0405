import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";

const root = join(import.meta.dirname, "..");
const read = (...path: string[]) => readFileSync(join(root, ...path), "utf8");
/** Keys of CITATION.cff that stand on a line with their value. */
const cited = Object.fromEntries(
  [...read("CITATION.cff").matchAll(/^([a-z-]+): +"?(.*?)"?$/gm)].map(([, key, value]) => [key, value]),
);

it("CITATION.cff has the keys that version 1.2.0 of the format requires", () => {
  const keys = [...read("CITATION.cff").matchAll(/^([a-z-]+):/gm)].map(([, key]) => key);
  expect(keys).toEqual(expect.arrayContaining(["cff-version", "message", "title", "authors"]));
  expect(cited["cff-version"]).toBe("1.2.0");
  expect(["software", "dataset"]).toContain(cited.type);
});

it("CITATION.cff and the README cite the version and licence of every package", () => {
  const readme = read("README.md");
  for (const name of readdirSync(join(root, "packages"))) {
    const { version, license } = JSON.parse(read("packages", name, "package.json"));
    expect({ name, version: cited.version, license: cited.license }).toEqual({ name, version, license });
  }
  expect(readme.includes(`${cited.title} (version ${cited.version})`)).toBe(true);
});

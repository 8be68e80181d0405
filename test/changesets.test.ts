import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const root = join(import.meta.dirname, "..");
const packages = readdirSync(join(root, "packages")).map(
  (folder) => JSON.parse(readFileSync(join(root, "packages", folder, "package.json"), "utf8")).name,
);
const changesets = readdirSync(join(root, ".changeset")).filter((name) => name.endsWith(".md"));

describe("changesets", () => {
  it.each(changesets)("%s names packages of the workspace only, so that a release can be made", (name) => {
    const [, head] = readFileSync(join(root, ".changeset", name), "utf8").split("---");
    const named = Array.from(head.matchAll(/^"(.+)": (?:major|minor|patch)$/gm), ([, one]) => one);
    expect(named).not.toHaveLength(0);
    for (const one of named) expect(packages).toContain(one);
  });
});

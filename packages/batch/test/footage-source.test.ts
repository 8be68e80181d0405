import { mkdir, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { copyFrames } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { footageSource } from "../src/footage-source.js";

const EVENT = { firstFrame: 3, lastFrame: 6, marginFrames: 1 };

describe("footageSource", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "day", "tile"), {
    numbers: range(0, 9),
    pixelsPerFrame: 2,
    columns: 32,
  });
  await symlink(join(root, "day"), join(root, "today"));

  it("is one for a take and what was copied out of it by another name of its folder", async () => {
    await copyFrames(join(root, "today", "tile"), join(root, "day", "event"), EVENT);
    const source = await footageSource(join(root, "day", "event"));
    expect(source).toEqual({ origin: (await footageSource(take)).origin, isCopy: true });
    expect(await footageSource(join(root, "today", "tile"))).toEqual({
      origin: source.origin,
      isCopy: false,
    });
  });

  it("is found from a copy that was written through a link to a folder elsewhere, by either name", async () => {
    await mkdir(join(root, "disk", "deep"), { recursive: true });
    await symlink(join(root, "disk", "deep"), join(root, "copies"));
    await copyFrames(take, join(root, "copies", "event"), EVENT);
    const { origin } = await footageSource(take);
    for (const copy of [join(root, "copies", "event"), join(root, "disk", "deep", "event")])
      expect(await footageSource(copy)).toEqual({ origin, isCopy: true });
  });

  it("is one for two copies of a take that is gone, and a copy of a copy ends there, too", async () => {
    const gone = await renderTake(join(root, "day", "gone"), {
      numbers: range(0, 9),
      pixelsPerFrame: 2,
      columns: 32,
    });
    await copyFrames(gone, join(root, "day", "one"), EVENT);
    await copyFrames(join(root, "today", "gone"), join(root, "day", "two"), EVENT);
    await copyFrames(join(root, "day", "two"), join(root, "day", "three"), EVENT);
    await rm(gone, { recursive: true });
    const [one, ...others] = await Promise.all(
      ["one", "two", "three"].map((name) => footageSource(join(root, "day", name))),
    );
    expect(one.isCopy).toBe(true);
    for (const other of others) expect(other).toEqual(one);
  });

  it("ends where copies name each other, by whatever name", async () => {
    const known = (copiedFrom: string) =>
      JSON.stringify({ format: "frontpace-take", version: 1, copiedFrom });
    for (const [name, from] of [
      ["here", "../../today/there"],
      ["there", "../../today/here"],
    ]) {
      await mkdir(join(root, "day", name));
      await writeFile(join(root, "day", name, "take.json"), known(from));
    }
    expect((await footageSource(join(root, "day", "here"))).isCopy).toBe(true);
  });
});

import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openFrames } from "@frontpace/frame-loader";
import { afterAll, describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";

const TILE = fileURLToPath(new URL("../../../fixtures/cracking-tile", import.meta.url));

describe("a take in one file", async () => {
  const folder = await mkdtemp(join(tmpdir(), "frontpace-test-"));
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it("gives the speed of its stills, with what NAME.take.json beside it says, numbered from 0", async () => {
    const stills = await openFrames(TILE);
    const samples: Uint8Array[] = [];
    for await (const { frame } of stills.frames()) samples.push(Uint8Array.from(frame.data));
    await stills.close();
    const file = join(folder, "tile.bin");
    await writeFile(file, Buffer.concat([Buffer.from("16 bytes, unused"), ...samples]));
    const known = JSON.parse(await readFile(join(TILE, "take.json"), "utf8"));
    const raw = `${stills.columns}x${stills.rows}:u8@16`;
    await writeFile(join(folder, "tile.take.json"), JSON.stringify({ ...known, raw }));

    const [inStills, inFile] = [await measureTake(TILE), await measureTake(file)];
    expect(inFile.result).toMatchObject({ status: "measured", take: { name: "tile.bin", raw } });
    expect(inFile.result.speed?.value).toBeCloseTo(inStills.result.speed?.value ?? Number.NaN, 6);
    const shift = stills.numbers[0];
    expect(inFile.track.map(({ frame }) => frame + shift)).toEqual(inStills.track.map(({ frame }) => frame));
  });
});

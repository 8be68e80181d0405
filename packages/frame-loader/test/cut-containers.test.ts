import { copyFile, readFile, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openContainer } from "../src/containers/open-container.js";
import { FrameLoadError, openFrames } from "../src/index.js";
import { type ContainerFixture, containerFixtures } from "./support/containerFixtures.js";
import { scratchFolder } from "./support/scratchFolder.js";

const RANDOM_CUTS = 200;

/** Whole numbers below `limit`, from a fixed seed. */
function drawn(count: number, limit: number, seed: number): number[] {
  let state = seed;
  return Array.from({ length: count }, () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * limit);
  });
}

/** Opens what there is and holds every frame against the reference.
 *  @returns how many frames there are and whether they are said to be cut short, or the code of the error */
async function foundIn(path: string, { options, frames, rows, columns }: ContainerFixture) {
  let container: Awaited<ReturnType<typeof openContainer>>;
  try {
    container = await openContainer(path, options.raw ?? null);
  } catch (error) {
    if (error instanceof FrameLoadError) return { code: error.code };
    throw error;
  }
  try {
    for (let index = 0; index < container.count; index++) {
      const samples = await container.readSamples(index, { row: 0, column: 0, rows, columns });
      const wrong = samples.findIndex((value, i) => value !== frames[index][i]);
      if (wrong >= 0 || samples.length !== frames[index].length)
        throw new Error(`sample ${wrong} of frame ${index} is wrong`);
    }
    return { count: container.count, warnings: container.warnings.map(({ code }) => code) };
  } finally {
    await container.close();
  }
}

describe("a file that is cut short gives the whole frames that are there, and says so", () => {
  const cut = containerFixtures.filter(({ marks }) => marks);

  it("of every kind", () => expect(cut.length).toBe(15));

  it.each(cut.map((one) => [one.name, one] as const))("%s", async (name, one) => {
    const folder = await scratchFolder([]);
    const path = join(folder, name);
    await copyFile(one.path, path);
    const { length } = await readFile(path);
    const whole = one.whole as number[];
    const marks = (one.marks as number[]).flatMap((mark) => [mark - 1, mark, mark + 1]);
    const sizes = [...marks, ...drawn(RANDOM_CUTS, length, 20261127)].filter(
      (size) => size >= 0 && size < length,
    );
    // From the longest down, so that one file is cut again and again.
    for (const size of [...new Set(sizes)].sort((a, b) => b - a)) {
      await truncate(path, size);
      const found = await foundIn(path, one);
      const count = whole.filter((end) => end <= size).length;
      if (count === 0) expect(["corrupt-frame", "unknown-container"], `${size} bytes`).toContain(found.code);
      else {
        // Without a number of frames in it nothing could tell that it is cut between two of them; and bytes that a
        // writer fills up the end with are not missed.
        const gap = one.options.raw?.gap ?? 0;
        const isBetween = [0, gap].includes(size - whole[count - 1]) && /(raw|y4m)$/.test(name);
        const isUnharmed = isBetween || count === whole.length;
        expect(found, `${size} bytes`).toEqual({ count, warnings: isUnharmed ? [] : ["truncated"] });
      }
    }
  });
});

describe("a file with a changed byte", () => {
  it.each(containerFixtures.filter(({ marks }) => marks).map((one) => [one.name, one] as const))(
    "%s is read or refused, never more",
    async (name, one) => {
      const folder = await scratchFolder([]);
      const path = join(folder, name);
      const content = await readFile(one.path);
      // Headers stand in front; the rest is drawn over the whole file.
      const places = [...drawn(25, Math.min(200, content.length), 3), ...drawn(15, content.length, 5)];
      const values = drawn(places.length, 256, 9);
      for (const [k, place] of places.entries()) {
        const changed = Buffer.from(content);
        changed[place] = values[k];
        await writeFile(path, changed);
        try {
          const sequence = await openFrames(path, one.options);
          try {
            for (let index = 0; index < Math.min(4, sequence.numbers.length); index++)
              await sequence.read(index);
          } finally {
            await sequence.close();
          }
        } catch (error) {
          expect(error, `byte ${place} = ${values[k]}`).toBeInstanceOf(FrameLoadError);
        }
      }
    },
  );
});

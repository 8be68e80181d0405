import { createHash } from "node:crypto";
import type { FrameSource } from "@frontpace/tracker";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { hashSamples } from "../../src/footage/hash-samples.js";

const samples = (number: number) => Uint16Array.from([number + 2, 1, 65535, 7, 300, 12]);

/** Two rows of three, or what is asked for of them as a view. */
function source(numbers: readonly number[]): FrameSource {
  return {
    numbers,
    rows: 2,
    columns: 3,
    bitDepth: 16,
    async *frames(_range, region = { row: 0, column: 0, rows: 2, columns: 3 }) {
      const { row, column, rows, columns } = region;
      for (const [index, number] of numbers.entries())
        yield {
          index,
          number,
          frame: ndarray(samples(number), [2, 3])
            .hi(row + rows, column + columns)
            .lo(row, column),
        };
    },
  };
}

async function digestOf(frames: FrameSource, region?: Parameters<FrameSource["frames"]>[1], passes = 1) {
  const { hashed, digest } = hashSamples(frames);
  for (let pass = 0; pass < passes; pass++) for await (const _ of hashed.frames({}, region));
  return digest();
}

/** By definition, from little-endian samples. */
function expected(frames: readonly (readonly [number: number, samples: readonly number[]])[]): string {
  const hash = createHash("sha256");
  for (const [number, values] of frames) {
    const head = Buffer.alloc(8);
    head.writeBigInt64BE(BigInt(number));
    const body = Buffer.alloc(2 * values.length);
    for (const [k, value] of values.entries()) body.writeUInt16LE(value, 2 * k);
    hash.update(head).update(body);
  }
  return hash.digest("hex");
}

describe("the hash of the samples that are read", () => {
  it("is SHA-256 over number and samples of every frame in order", async () => {
    const whole = [-3, 5].map((number) => [number, [...samples(number)]] as const);
    expect(await digestOf(source([-3, 5]))).toBe(expected(whole));
  });

  it("is over the part that is read, row by row, whether it lies in one piece or not", async () => {
    const lower = { row: 1, column: 0, rows: 1, columns: 3 };
    expect(await digestOf(source([4]), lower)).toBe(expected([[4, [7, 300, 12]]]));
    const right = { row: 0, column: 1, rows: 2, columns: 2 };
    expect(await digestOf(source([4]), right)).toBe(expected([[4, [1, 65535, 300, 12]]]));
  });

  it("is that of the first pass, however often frames are read again", async () => {
    expect(await digestOf(source([1, 2]), undefined, 3)).toBe(await digestOf(source([1, 2])));
  });

  it("says which part it is over, and none where nothing was read", async () => {
    const { hashed, part } = hashSamples(source([4]));
    expect(part()).toBeNull();
    const right = { row: 0, column: 1, rows: 2, columns: 2 };
    for await (const _ of hashed.frames({}, right));
    for await (const _ of hashed.frames());
    expect(part()).toEqual(right);
  });

  it("changes with a sample and with a number", async () => {
    const first = await digestOf(source([1, 2]));
    expect(await digestOf(source([1, 3]))).not.toBe(first);
    expect(first).not.toBe(
      expected([
        [1, [...samples(1)]],
        [2, [...samples(1)]],
      ]),
    );
  });

  it("hands on what it was given", async () => {
    const { hashed } = hashSamples(source([8, 9]));
    const seen: number[] = [];
    for await (const { number, frame } of hashed.frames()) seen.push(number, frame.get(0, 0));
    expect(seen).toEqual([8, 10, 9, 11]);
    expect(hashed).toMatchObject({ numbers: [8, 9], rows: 2, columns: 3, bitDepth: 16 });
  });
});

import { expect } from "vitest";
import { type Frame, openFrames } from "../../src/index.js";
import { scratchFolder } from "./scratchFolder.js";

/** All 65,536 values of a 16-bit sample, in order; as a picture 256 by 256. */
export const ramp16 = Uint16Array.from({ length: 65_536 }, (_, i) => i);
/** All 256 values of an 8-bit sample, in order; as a picture 16 by 16. */
export const ramp8 = Uint8Array.from({ length: 256 }, (_, i) => i);

/** Two bytes for every value. */
export function bytes16(values: Iterable<number>, bigEndian: boolean): Buffer {
  const list = [...values];
  const result = Buffer.alloc(2 * list.length);
  list.forEach((value, i) => {
    if (bigEndian) result.writeUInt16BE(value, 2 * i);
    else result.writeUInt16LE(value, 2 * i);
  });
  return result;
}

/** The frame of a folder that holds one still with this content. */
export async function readStill(file: string, content: Uint8Array): Promise<Frame> {
  const sequence = await openFrames(await scratchFolder({ [file]: content }));
  return sequence.read(0);
}

/** Compares every sample, and the type of the array with them. */
export function expectSamples(frame: Frame, expected: Uint8Array | Uint16Array | Float32Array): void {
  expect(frame.data.constructor).toBe(expected.constructor);
  expect(frame.data.length).toBe(expected.length);
  const wrong = expected.findIndex((value, i) => frame.data[i] !== value);
  expect({ wrong, got: frame.data[wrong] }).toEqual({ wrong: -1, got: undefined });
}

import type { FrameSource } from "../types.js";
import { Departures } from "./departures.js";
import { type PassOptions, passOver, samplersOf } from "./pass-over.js";
import type { Band } from "./sampler.js";

/** Believable least noise of floating-point samples, as a part of the largest. */
const FLOATING_FLOOR = 1e-7;

/** Reads the second channel of one or more bands in a pass over the frames `start` to `end` (indices, end exclusive).
 *  @returns of each band as `Departures` gives it, shape [frames, positions]
 *  @throws the signal's reason when aborted */
export async function readDepartures(
  source: FrameSource,
  bands: readonly Band[],
  start: number,
  end: number,
  options: Omit<PassOptions, "acrossPixels"> = {},
): Promise<Float64Array[]> {
  const samplers = samplersOf(source, bands);
  const floor = pixelFloor(source.bitDepth);
  const departures = samplers.map(({ width, positions }) => new Departures(width, positions, floor));
  const pixels = samplers.map(({ width, positions }) => new Float32Array(width * positions));
  await passOver(
    source,
    samplers,
    [start, end],
    "reading departures",
    {
      addFrame(k, picture) {
        samplers[k].pixels(picture, pixels[k]);
        departures[k].addFrame(pixels[k]);
      },
    },
    options,
  );
  return departures.map((channel) => channel.streak());
}

/** Smallest believable noise of one pixel, from the brightest sample. */
function pixelFloor(bitDepth: number): (brightest: number) => number {
  return bitDepth <= 16
    ? () => Math.sqrt(1 / 12)
    : (brightest) => Math.max(1e-30, FLOATING_FLOOR * Math.abs(brightest));
}

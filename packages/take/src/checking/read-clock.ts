import type { ClockFacts } from "@frontpace/checker";
import type { FrameRange } from "../settings/check-against-frames.js";
import { checkRegion } from "../settings/check-region.js";
import { TakeError } from "../take-error.js";
import type { DryCheckOptions, TakeFrames } from "../types.js";

/** Frames in which the lamp is looked for, at most. */
const MOST_FRAMES = 4000;
/** The stated rate is taken to be right to this part; where the lamp is faster than the frames, to this part of a cycle. */
const NEAR = 0.05;
const NEAR_CYCLES = 0.2;

/** A lamp of known frequency in the frames: what of the brightness of the picture, or of a part of it, repeats at about
 *  its frequency.
 *  @returns null where no lamp is named
 *  @throws TakeError `rate-missing`, `region-outside`, `invalid-value`; `signal.reason` */
export async function readClock(
  frames: TakeFrames,
  { start, end }: FrameRange,
  { clockHz, clockUncertaintyHz, lamp, exposureSeconds }: DryCheckOptions,
  rateHz: number | null,
  signal: AbortSignal | undefined,
): Promise<ClockFacts | null> {
  if (clockHz === undefined) {
    for (const key of ["clockUncertaintyHz", "lamp"] as const)
      if ({ clockUncertaintyHz, lamp }[key] !== undefined)
        throw new TakeError(
          "invalid-value",
          `${key} belongs to a lamp of known frequency, and that is not given: add clockHz, or --clock`,
          { key },
        );
    return null;
  }
  if (rateHz === null)
    throw new TakeError(
      "rate-missing",
      "the recording rate, in frames per second, is not given: give rateHz, as the camera states it; the lamp tells it better",
      { key: "rateHz" },
    );
  const region = lamp && checkRegion(lamp, frames, "lamp");
  const numbers: number[] = [];
  const brightness: number[] = [];
  const range = { start, end: Math.min(end, start + MOST_FRAMES) };
  for await (const { number, frame } of frames.frames(range, region, signal ? { signal } : {})) {
    const [rows, columns] = frame.shape;
    let sum = 0;
    for (let y = 0; y < rows; y++) for (let x = 0; x < columns; x++) sum += frame.get(y, x);
    numbers.push(number);
    brightness.push(sum / (rows * columns));
    signal?.throwIfAborted();
  }
  const expected = clockHz / rateHz;
  const about = Math.min(NEAR * expected, NEAR_CYCLES);
  const { fitPeriodic } = await import("@frontpace/fit");
  // Looked for twice as far off, so that what lies beyond is seen to do so.
  const fit = fitPeriodic(numbers, brightness, { from: expected - 2 * about, to: expected + 2 * about });
  const isNear = fit !== null && Math.abs(fit.frequency - expected) <= about;
  return {
    lampHz: clockHz,
    lampUncertaintyHz: clockUncertaintyHz ?? null,
    nominalRateHz: rateHz,
    ...(exposureSeconds !== undefined && { exposureSeconds }),
    frames: numbers.length,
    seen: isNear
      ? {
          cyclesPerFrame: fit.frequency,
          standardUncertainty: fit.standardUncertainty,
          degreesOfFreedom: fit.degreesOfFreedom,
          harmonics: fit.harmonics,
        }
      : null,
    elsewhereCyclesPerFrame: fit && !isNear ? fit.frequency : null,
  };
}

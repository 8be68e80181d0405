import { randomFrom } from "../random.js";
import type { DrawnTake } from "./draw-take.js";

/** An invented take whose front crosses the path within a few frames. */
export interface CrossingTake extends DrawnTake {
  /** Where the path is given: its ends along the front's way, px, and whether it is given from the far end. */
  readonly path: { readonly from: number; readonly to: number; readonly reversed: boolean } | null;
  /** Rate and scale that really held. */
  readonly trueRateHz: number;
  readonly trueMetresPerPixel: number;
}

/** Frames on either side of the crossing, at least. */
const MARGIN = 3;
const MOST_FRAMES_TO_CROSS = 4;

export function drawCrossing(seed: number): CrossingTake {
  const random = randomFrom(seed);
  const frames = random.integer(12, 60);
  const along = Math.round(random.logUniform(40, 400));
  const path =
    random.uniform() < 0.5
      ? {
          from: Math.round(along * random.uniform(0.05, 0.25)),
          to: Math.round(along * random.uniform(0.75, 0.95)),
          reversed: random.uniform() < 0.5,
        }
      : null;
  const [from, to] = path ? [path.from, path.to] : [0, along - 1];
  const crossing = random.uniform(0.1, MOST_FRAMES_TO_CROSS);
  const pixelsPerFrame = (to - from) / crossing;
  const enters = random.uniform(MARGIN, frames - 1 - MARGIN - crossing);
  const front = Float64Array.from({ length: frames }, (_, i) => from + pixelsPerFrame * (i - enters));
  const numbers = Array.from(front.keys()).filter((i) => i === 0 || random.uniform() >= 0.05);
  const bits = random.integer(8, 16);
  const fullScale = 2 ** bits - 1;
  const polarity = random.pick([1, -1] as const);
  const step = fullScale * random.uniform(0.06, 0.35);
  const stepToNoise = random.logUniform(1, 50);
  const rateHz = random.logUniform(2e4, 2e6);
  const metresPerPixel = random.logUniform(2e-6, 1e-3);
  const relativeRateUncertainty = random.logUniform(1e-6, 1e-2);
  const relativeScaleUncertainty = random.logUniform(1e-4, 5e-2);
  const trueRateHz = rateHz * (1 + relativeRateUncertainty * random.normal());
  const trueMetresPerPixel = metresPerPixel * (1 + relativeScaleUncertainty * random.normal());
  return {
    seed,
    frames,
    numbers,
    across: random.integer(8, 32),
    along,
    direction: random.pick(["right", "left", "down", "up"] as const),
    polarity,
    pixelsPerFrame,
    front,
    seenIn: numbers.filter((i) => front[i] >= from && front[i] <= to).length,
    blurPixels: random.uniform(0.7, 4),
    exposureFraction: random.uniform(0.05, 1),
    exposureStated: random.uniform() < 0.5,
    bits,
    before: fullScale * (polarity > 0 ? random.uniform(0.08, 0.4) : random.uniform(0.5, 0.8)),
    step,
    noise: step / stepToNoise,
    stepToNoise,
    wander: null,
    light: new Float64Array(frames).fill(1),
    rateHz,
    relativeRateUncertainty,
    metresPerPixel,
    relativeScaleUncertainty,
    trueSpeed: pixelsPerFrame * trueRateHz * trueMetresPerPixel,
    path,
    trueRateHz,
    trueMetresPerPixel,
  };
}

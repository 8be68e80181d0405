import { randomFrom } from "../random.js";
import type { DrawnTake } from "./draw-take.js";
import { drawLevels, drawUnits, drawView } from "./drawn-parts.js";

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
  const levels = drawLevels(random);
  const stepToNoise = random.logUniform(1, 50);
  const units = drawUnits(random, 1e-2, 5e-2);
  const trueRateHz = units.rateHz * (1 + units.relativeRateUncertainty * random.normal());
  const trueMetresPerPixel = units.metresPerPixel * (1 + units.relativeScaleUncertainty * random.normal());
  return {
    seed,
    frames,
    numbers,
    across: random.integer(8, 32),
    along,
    ...drawView(random, 4),
    ...levels,
    pixelsPerFrame,
    front,
    seenIn: numbers.filter((i) => front[i] >= from && front[i] <= to).length,
    noise: levels.step / stepToNoise,
    stepToNoise,
    wander: null,
    light: new Float64Array(frames).fill(1),
    ...units,
    trueSpeed: pixelsPerFrame * trueRateHz * trueMetresPerPixel,
    path,
    trueRateHz,
    trueMetresPerPixel,
  };
}

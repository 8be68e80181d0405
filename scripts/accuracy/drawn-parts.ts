import type { Random } from "../random.js";

/** Sample depth and levels of an invented take, DN.
 *  @param bits  drawn from 8 to 16 where it is not wanted otherwise */
export function drawLevels(random: Random, bits = random.integer(8, 16)) {
  const fullScale = 2 ** bits - 1;
  const polarity = random.pick([1, -1] as const);
  const step = fullScale * random.uniform(0.06, 0.35);
  const before = polarity > 0 ? fullScale * random.uniform(0.08, 0.4) : fullScale * random.uniform(0.5, 0.8);
  return { bits, polarity, step, before };
}

/** Rate and scale, and how well they are known: up to so much, relative. */
export function drawUnits(random: Random, mostOfRate: number, mostOfScale: number) {
  return {
    rateHz: random.logUniform(2e4, 2e6),
    metresPerPixel: random.logUniform(2e-6, 1e-3),
    relativeRateUncertainty: random.logUniform(1e-6, mostOfRate),
    relativeScaleUncertainty: random.logUniform(1e-4, mostOfScale),
  };
}

/** Which way the front runs, how blurred it is, and the exposure. */
export function drawView(random: Random, mostBlurPixels: number) {
  return {
    direction: random.pick(["right", "left", "down", "up"] as const),
    blurPixels: random.uniform(0.7, mostBlurPixels),
    exposureFraction: random.uniform(0.05, 1),
    exposureStated: random.uniform() < 0.5,
  };
}

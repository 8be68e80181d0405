import { edgeWidth } from "./edge-profile.js";
import { type FittedLightAhead, fitLightAhead, gainByLightAhead } from "./fit-light-ahead.js";
import type { BrightnessField } from "./front-model.js";
import { smearOf } from "./joint-fit.js";
import type { FrontRun } from "./relaxing-window.js";

/** Lengths to start from, in widths of the front's edge. */
const STARTS = [2, 8];

/** What light must gain of the sum of squares over the noise variance: chance gives so much once in 5,000. */
const LIKELY = 17;

/** Light ahead of a front that is the same part of its change at all positions. */
export interface ChosenLightAhead extends FittedLightAhead {
  /** Standard uncertainty of the slope for what the light, and the way in which the front meets it, leave open, px a frame. */
  readonly slopeOpenPixels: number;
}

/** Whether there may be light ahead of a front that was fitted without it.
 *  @param stride  every so many of the positions are looked at, >= 1
 *  @param noiseVariance  of a sample */
export function maybeLightAhead(
  field: BrightnessField,
  run: FrontRun,
  stride: number,
  noiseVariance: number,
): boolean {
  const width = edgeWidth(run.motion.blurPixels, smearOf(run.motion));
  return STARTS.some(
    (widths) => gainByLightAhead(field, run, widths * width, stride, noiseVariance) > LIKELY,
  );
}

/** The light ahead of a front, of that form, that explains most.
 *  @param stride  every so many of the positions are looked at, >= 1
 *  @param noiseVariance  of a sample */
export function chooseLightAhead(
  field: BrightnessField,
  run: FrontRun,
  stride: number,
  noiseVariance: number,
): ChosenLightAhead {
  const width = edgeWidth(run.motion.blurPixels, smearOf(run.motion));
  const blurred = STARTS.map((widths) => {
    const light = { lengthPixels: widths * width, size: 0, growth: 0, isCovered: false };
    return fitLightAhead(field, { run, light }, stride, noiseVariance);
  }).reduce((least, fit) => (fit.left < least.left ? fit : least));
  const start = { run: blurred.run, light: { ...blurred.light, isCovered: true } };
  const covered = fitLightAhead(field, start, stride, noiseVariance);
  const [best, other] = covered.left < blurred.left ? [covered, blurred] : [blurred, covered];
  const apart = other.run.motion.slopePixelsPerFrame - best.run.motion.slopePixelsPerFrame;
  const likely = 1 / (1 + Math.exp(((other.left - best.left) * stride) / 2));
  return {
    ...best,
    slopeOpenPixels: Math.sqrt(best.slopeVariance + apart ** 2 * likely * (1 - likely)),
  };
}

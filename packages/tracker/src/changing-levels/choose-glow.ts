import { edgeWidth } from "../model/edge-profile.js";
import type { BrightnessField } from "../model/front-model.js";
import { smearOf } from "../model/joint-fit.js";
import { varianceByOther } from "../model/variance-by-other.js";
import { type FittedGlow, fitGlow, gainByGlow, NO_GLOW } from "./fit-glow.js";
import { type Glow, glowSums } from "./glow-sums.js";
import type { FrontRun } from "./relaxing-window.js";

/** How else a glow that an edge covers may fall off. */
const OTHER_FALLS = ["bell", "tailed", "rounded"] as const;
/** Lengths to start from, in widths of the front's edge. */
const STARTS = [2, 8];

/** What a glow must gain of the sum of squares over the noise variance: chance gives so much once in 5,000. */
const LIKELY = 17;

/** Where all starts leave more than this times the noise, it is not the glow alone that is missing. */
const MAY_EXPLAIN = 1.3;
/** Even the wrong form of a glow takes more than this part of what is left beyond noise; what takes less is another change. */
const LEAST_EXPLAINED = 0.02;
/** Where one form leaves more than this times the noise, no other explains it. */
const MAY_COME_CLOSE = 3;
/** What falls off within so many widths of the edge is a part of it: an edge of another form. */
const SHORTEST = 1.5;

/** Light ahead of a front that is the same part of its change at all positions. */
export interface ChosenGlow extends FittedGlow {
  /** Standard uncertainty of the slope for what the glow, and the way in which it falls off and meets the front, leave open, px a frame. */
  readonly slopeOpenPixels: number;
}

/** Whether there may be a glow ahead of a front that was fitted without it.
 *  @param stride  every so many of the positions are looked at, >= 1
 *  @param noiseVariance  of a sample */
export function mayGlow(
  field: BrightnessField,
  run: FrontRun,
  stride: number,
  noiseVariance: number,
): boolean {
  const width = edgeWidth(run.motion.blurPixels, smearOf(run.motion));
  return STARTS.some((widths) => gainByGlow(field, run, widths * width, stride, noiseVariance) > LIKELY);
}

/** What a front without a glow leaves, for each sample that is free to differ, over the noise variance.
 *  @param stride  every so many of the positions are looked at, >= 1
 *  @param noiseVariance  of a sample */
export function leftWithout(
  field: BrightnessField,
  run: FrontRun,
  stride: number,
  noiseVariance: number,
): number {
  const lengthPixels = edgeWidth(run.motion.blurPixels, smearOf(run.motion));
  const { left, freedom } = glowSums(
    field,
    { run, glow: { lengthPixels, ...NO_GLOW } },
    stride,
    noiseVariance,
  );
  return left / freedom;
}

/** The glow ahead of a front that explains most.
 *  @param stride  every so many of the positions are looked at, >= 1
 *  @param noiseVariance  of a sample
 *  @returns null where it leaves more than noise, since something else changes, too, and where it is no longer than the edge */
export function chooseGlow(
  field: BrightnessField,
  run: FrontRun,
  stride: number,
  noiseVariance: number,
): ChosenGlow | null {
  const width = edgeWidth(run.motion.blurPixels, smearOf(run.motion));
  const ended = leastLeft(
    STARTS.map((widths) => {
      const glow: Glow = { lengthPixels: widths * width, ...NO_GLOW };
      return fitGlow(field, { run, glow }, stride, noiseVariance);
    }),
  );
  const unexplained = (ended.misfit - 1) / Math.max(1e-9, leftWithout(field, run, stride, noiseVariance) - 1);
  if (ended.misfit > MAY_EXPLAIN && unexplained > 1 - LEAST_EXPLAINED) return null;
  const also = (change: Partial<Glow>) =>
    fitGlow(field, { run: ended.run, glow: { ...ended.glow, ...change } }, stride, noiseVariance);
  const covered = also({ form: "covered" });
  const isOfEdge = ({ glow, misfit }: FittedGlow) =>
    misfit <= MAY_EXPLAIN && glow.lengthPixels < SHORTEST * width;
  // An edge of another form explains more the less of it lies behind the front: no other form is as close to it.
  if (isOfEdge(ended) && isOfEdge(covered) && covered.left < ended.left) return null;
  const fits = [ended, covered, ...OTHER_FALLS.map((form) => also({ form }))];
  // What all of these miss may be the light behind; one form tells whether it is.
  if (leastLeft(fits).misfit > MAY_EXPLAIN) {
    const litBehind = also({ lightsBehind: true });
    if (litBehind.misfit > MAY_COME_CLOSE) return null;
    const others = (["covered", ...OTHER_FALLS] as const).map((form) => also({ form, lightsBehind: true }));
    fits.push(litBehind, ...others);
  }
  const best = leastLeft(fits);
  if (best.misfit > MAY_EXPLAIN || best.glow.lengthPixels < SHORTEST * width) return null;
  const byOthers = fits.map(({ run, left }) =>
    varianceByOther(
      run.motion.slopePixelsPerFrame - best.run.motion.slopePixelsPerFrame,
      (left - best.left) * stride,
    ),
  );
  return { ...best, slopeOpenPixels: Math.sqrt(best.slopeVariance + Math.max(...byOthers)) };
}

function leastLeft(fits: readonly FittedGlow[]): FittedGlow {
  return fits.reduce((least, fit) => (fit.left < least.left ? fit : least));
}

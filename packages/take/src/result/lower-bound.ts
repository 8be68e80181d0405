import type { Quantity } from "@frontpace/fit";

/** Standard normal quantile at 0.95: one-sided 95 %. */
const oneSided95 = 1.6448536269514722;

export interface Crossing {
  readonly lengthPixels: number;
  /** Number of the last frame that shows none of the front. */
  readonly lastFrameBefore: number;
  /** Number of the first frame that shows the path crossed. */
  readonly firstFrameAfter: number;
}

/** Least speed of a front that crossed the path between two frames, v >= L / ((j - i) T + t_e), with scale and
 *  rate at the ends of their one-sided 95 % intervals that make it smaller. A light collection time t_e (of the
 *  pulse, where light is pulsed) that is not known counts as the whole interval T.
 *  @returns m/s */
export function lowerBound(
  crossing: Crossing,
  rateHz: Quantity,
  metresPerPixel: Quantity,
  collectionSeconds: number | null,
): number {
  const interval = 1 / lowEnd(rateHz);
  const frames = crossing.firstFrameAfter - crossing.lastFrameBefore;
  return (
    (crossing.lengthPixels * lowEnd(metresPerPixel)) / (frames * interval + (collectionSeconds ?? interval))
  );
}

function lowEnd({ value, standardUncertainty = 0 }: Quantity): number {
  return value - oneSided95 * standardUncertainty;
}

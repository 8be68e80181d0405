import type { MeasureOptions } from "@frontpace/take";
import type { DrawnTake } from "./draw-take.js";

/** What an operator would state of an invented take. */
export function optionsOf(take: DrawnTake): MeasureOptions {
  return {
    rateHz: take.rateHz,
    rateUncertaintyHz: take.rateHz * take.relativeRateUncertainty,
    metresPerPixel: take.metresPerPixel,
    metresPerPixelUncertainty: take.metresPerPixel * take.relativeScaleUncertainty,
    ...(take.exposureStated && { exposureSeconds: take.exposureFraction / take.rateHz }),
  };
}

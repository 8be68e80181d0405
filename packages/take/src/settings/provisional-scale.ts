import type { Quantity } from "@frontpace/fit";
import type { CalibrationInUse } from "./settle.js";

/** The single scale of a calibration, in pixels of the take: what holds until the path is known. */
export function provisionalScale({ scale, binning }: CalibrationInUse): Quantity {
  const factor = (binning ?? scale.binning) / scale.binning;
  const { metresPerPixel, metresPerPixelUncertainty } = scale;
  return {
    value: metresPerPixel * factor,
    ...(metresPerPixelUncertainty !== null && { standardUncertainty: metresPerPixelUncertainty * factor }),
  };
}

import type { Point } from "../types.js";
import { type CombinedLengths, combineLengths } from "./combine-lengths.js";
import { correctDepth, type DepthOptions } from "./depth-corrections.js";
import { type FinishedScale, finishScale } from "./finish-scale.js";
import type { MeasuredLength } from "./read-lengths.js";

export interface LengthsScale extends FinishedScale {
  readonly each: CombinedLengths["each"];
  readonly disagree: boolean | null;
}

/** The scale of known lengths between pairs of points, in the plane of the event.
 *  @param pointingPixels  one standard uncertainty of a coordinate, px, >= 0
 *  @throws CalibrationError as `combineLengths` and `correctDepth` */
export function scaleFromLengths(
  lengths: readonly MeasuredLength[],
  pointingPixels: number,
  depth: DepthOptions = {},
): LengthsScale {
  const found = combineLengths(lengths, pointingPixels);
  const repeat = found.budget.find(({ source }) => source === "repeat")?.relativeStandardUncertainty ?? 0;
  const draw = (normal: () => number) => {
    const common = normal();
    const end = ([x, y]: Point) => [x + pointingPixels * normal(), y + pointingPixels * normal()];
    const mean = lengths.reduce((sum, { length, between: [from, to] }, k) => {
      const [a, b] = [end(from), end(to)];
      const metres = length.value + common * (length.standardUncertainty ?? 0);
      return sum + (found.shares[k] * metres) / Math.hypot(b[0] - a[0], b[1] - a[1]);
    }, 0);
    return mean * (1 + repeat * normal());
  };
  const { each, disagree } = found;
  return { ...finishScale({ ...found, draw }, correctDepth(depth)), each, disagree };
}

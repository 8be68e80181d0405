import { type ScaleLine, typeB } from "../scale/budget.js";
import { correctDepth, type DepthOptions } from "../scale/depth-corrections.js";
import { type FinishedScale, finishScale } from "../scale/finish-scale.js";
import type { Lens, PlaneMap, Point } from "../types.js";
import type { Correspondence } from "./check-points.js";
import { fitPlane, scaledMap } from "./fit-plane.js";
import { matrixOf } from "./matrix3.js";
import { normalVectors } from "./normal-vectors.js";
import { localScale } from "./plane-scale.js";
import { propagated } from "./propagate.js";
import { similarityUncertainty } from "./similarity-uncertainty.js";

export interface PlaneMapOptions {
  /** Relative standard uncertainty of the lengths in the plane, common to all; absent: not stated. */
  readonly relativeStandardUncertainty?: number;
  /** Of a coordinate in the picture, px; the residuals take its place where they say more. */
  readonly pointingPixels: number;
  readonly lens?: Lens;
  readonly depth?: DepthOptions;
  /** Scales that pictures of the standard in the same place gave, metres per pixel, this one among them. */
  readonly repeats?: readonly number[];
}

export interface PlaneMapScale extends FinishedScale {
  /** In the plane of the event. */
  readonly planeMap: PlaneMap;
  /** The point to which `metresPerPixel` belongs: the middle of the points, px. */
  readonly middlePixels: Point;
  /** Relative standard uncertainty that pointing would leave a scale seen square on. */
  readonly pointing: number;
  readonly pointingPixels: number;
  readonly rmsPixels: number;
  readonly degreesOfFreedom: number;
}

/** The map between the picture and a plane of known points, in the plane of the event, and the scale in its middle.
 *  @throws CalibrationError as `fitPlane` and `correctDepth` */
export function scaleFromPlane(points: readonly Correspondence[], options: PlaneMapOptions): PlaneMapScale {
  const { relativeStandardUncertainty: standard, pointingPixels, lens, depth = {}, repeats = [] } = options;
  const fit = fitPlane(points, lens ?? null, { pointingPixels });
  const mean = (k: 0 | 1) => points.reduce((sum, { pixel }) => sum + pixel[k], 0) / points.length;
  const middlePixels: Point = [mean(0), mean(1)];
  const view = lens ? { lens } : {};
  const scaleOf = (entries: readonly number[]) =>
    localScale({ matrix: matrixOf((i, j) => entries[3 * i + j]), ...view }, middlePixels);
  const entries = fit.map.matrix.flat();
  const metresPerPixel = scaleOf(entries);
  const drawEntries = normalVectors(entries, fit.map.covariance);
  const pointing = propagated(scaleOf, entries, fit.map.covariance) / metresPerPixel;
  const repeated = repeatLine(repeats, pointing);
  const budget: ScaleLine[] = [
    ...(standard === undefined ? [] : [typeB("length standard", standard)]),
    {
      source: "pointing",
      type: fit.pointingDegreesOfFreedom === null ? "B" : "A",
      relativeStandardUncertainty: pointing,
      degreesOfFreedom: fit.pointingDegreesOfFreedom,
    },
    ...repeated,
  ];
  const repeat = repeated[0]?.relativeStandardUncertainty ?? 0;
  const depthCorrection = correctDepth(depth);
  const finished = finishScale(
    {
      metresPerPixel,
      budget,
      isStandardKnown: standard !== undefined,
      draw: (normal) =>
        scaleOf(drawEntries(normal)) * (1 + (standard ?? 0) * normal()) * (1 + repeat * normal()),
    },
    depthCorrection,
  );
  return {
    ...finished,
    planeMap: scaledMap(fit.map, depthCorrection.factor),
    middlePixels,
    pointing: similarityUncertainty(points, fit.pointingPixels),
    pointingPixels: fit.pointingPixels,
    rmsPixels: fit.rmsPixels,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
}

/** What repeats differ by beyond what pointing explains, not divided by their number: one of them is used. */
function repeatLine(repeats: readonly number[], pointing: number): ScaleLine[] {
  if (repeats.length < 2) return [];
  const mean = repeats.reduce((sum, value) => sum + value, 0) / repeats.length;
  const squares = repeats.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const spread = squares / (repeats.length - 1) / mean ** 2;
  return [
    {
      source: "repeat",
      type: "A",
      relativeStandardUncertainty: Math.sqrt(Math.max(0, spread - pointing ** 2)),
      degreesOfFreedom: repeats.length - 1,
    },
  ];
}

import { median } from "@frontpace/fit";
import { addObservation, emptyEquations, solveEquations } from "./normal-equations.js";
import { planeReach } from "./plane-reach.js";
import type { ArrivalMap } from "./types.js";

/** Speed and direction of the front at every cell. Arrays are row-major, shape [rows, columns], NaN where nothing is said. */
export interface LocalMotion {
  /** px a frame */
  readonly speed: Float64Array;
  /** Standard, px a frame. */
  readonly speedUncertainty: Float64Array;
  /** From x towards y (down), degrees, −180..180. */
  readonly angle: Float64Array;
  /** Standard, degrees. */
  readonly angleUncertainty: Float64Array;
}

export interface LocalMotionOptions {
  /** Cells to either side that a plane is laid through, whole, >= 1. Default 3: a speed is that of a square of 7 by 7 cells; up to 15 where the front
   *  is so sharp and fast that it jumps from frame to frame, so that the square holds three of its steps. */
  readonly reachCells?: number;
}

/** So many cells to either side are looked at; in a larger square they stand apart. */
const SAMPLES = 3;
/** A plane needs this share of the cells of its square. */
const LEAST_SHARE = 0.6;
/** Cells farther from the plane than this many robust standard deviations have no say. */
const FARTHEST = 4;
/** A plane fits badly where its residuals are this many times the uncertainty of the arrivals. */
const POOR = 3;
/** frames; residuals this small are not poor, however certain the arrivals. */
const SMALLEST_MISFIT = 0.02;
/** A slowness of fewer standard uncertainties tells no speed. */
const RESOLVED = 4;
/** Neighbours that the front meets in the same frame err together: the variance of a plane is that of independent cells times this. */
const ALIKE = 2;

/** Local speed and direction by a robust plane through the arrivals about every cell: |grad T| = 1/speed, the eikonal equation.
 *  @throws RangeError on a reach that is not a whole number >= 1 */
export function localMotion(
  map: ArrivalMap,
  { reachCells = planeReach(map) }: LocalMotionOptions = {},
): LocalMotion {
  if (!(Number.isInteger(reachCells) && reachCells >= 1))
    throw new RangeError(`reachCells must be a whole number >= 1, got ${reachCells}`);
  const { rows, columns, arrival } = map;
  const array = () => new Float64Array(arrival.length).fill(Number.NaN);
  const motion = { speed: array(), speedUncertainty: array(), angle: array(), angleUncertainty: array() };
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      const at = r * columns + c;
      if (Number.isNaN(arrival[at])) continue;
      const plane = planeAbout(map, r, c, reachCells);
      if (!plane) continue;
      const { gx, gy, uncertainty } = plane;
      const slowness = Math.hypot(gx, gy);
      if (!(slowness > RESOLVED * uncertainty)) continue;
      motion.speed[at] = 1 / slowness;
      motion.speedUncertainty[at] = uncertainty / slowness ** 2;
      motion.angle[at] = (Math.atan2(gy, gx) * 180) / Math.PI;
      motion.angleUncertainty[at] = ((uncertainty / slowness) * 180) / Math.PI;
    }
  return motion;
}

/** Gradient of the arrival, frames per px, and the larger standard uncertainty of its components; null where the fit is poor. */
function planeAbout(map: ArrivalMap, row: number, column: number, reach: number) {
  const { rows, columns, cell, arrival, standardUncertainty } = map;
  const near: number[] = [];
  let places = 0;
  const stride = Math.max(1, Math.floor(reach / SAMPLES));
  const farthest = stride * Math.floor(reach / stride);
  for (let r = row - farthest; r <= row + farthest; r += stride)
    for (let c = column - farthest; c <= column + farthest; c += stride) {
      places++;
      if (r < 0 || c < 0 || r >= rows || c >= columns) continue;
      const at = r * columns + c;
      if (!Number.isNaN(arrival[at])) near.push(at);
    }
  if (near.length < LEAST_SHARE * places) return null;
  const middle = median(near.map((at) => arrival[at]));
  let kept = near;
  let plane: Float64Array = new Float64Array(3);
  let equations = emptyEquations(3);
  const d = new Float64Array(3);
  const derivatives = (at: number) => {
    d[0] = 1;
    d[1] = ((at % columns) - column) * cell;
    d[2] = (Math.floor(at / columns) - row) * cell;
  };
  const residual = (at: number) => {
    derivatives(at);
    return arrival[at] - middle - plane[0] - plane[1] * d[1] - plane[2] * d[2];
  };
  for (let round = 0; round < 3; round++) {
    equations = emptyEquations(3);
    for (const at of kept) {
      derivatives(at);
      addObservation(equations, d, arrival[at] - middle, 1);
    }
    const solved = solveEquations(equations);
    if (!solved) return null;
    plane = solved;
    const spread = 1.4826 * median(near.map((at) => Math.abs(residual(at)))) + 1e-9;
    const next = near.filter((at) => Math.abs(residual(at)) <= FARTHEST * spread);
    if (next.length === kept.length) break;
    kept = next;
  }
  if (kept.length < LEAST_SHARE * near.length) return null;
  const squares = kept.reduce((sum, at) => sum + residual(at) ** 2, 0) / Math.max(1, kept.length - 3);
  const expected = median(kept.map((at) => standardUncertainty[at]));
  if (squares > (POOR * expected + SMALLEST_MISFIT) ** 2) return null;
  const variance = ALIKE * Math.max(squares, expected ** 2);
  const { matrix } = equations;
  const leverage = Math.min(matrix[4], matrix[8]) - matrix[3] ** 2 / matrix[0];
  return { gx: plane[1], gy: plane[2], uncertainty: Math.sqrt(variance / Math.max(leverage, 1e-9)) };
}

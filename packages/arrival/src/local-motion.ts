import { planeReach } from "./plane-reach.js";
import { RobustPlane } from "./robust-plane.js";
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
  const most = (2 * Math.floor(reachCells / strideOf(reachCells)) + 1) ** 2;
  const plane = new RobustPlane(most);
  const uncertainties = new Float64Array(most);
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      const at = r * columns + c;
      if (Number.isNaN(arrival[at])) continue;
      if (!gather(map, r, c, reachCells, plane, uncertainties) || !plane.fit()) continue;
      const expected = plane.medianOfKept(uncertainties);
      if (plane.meanSquare > (POOR * expected + SMALLEST_MISFIT) ** 2) continue;
      const variance = ALIKE * Math.max(plane.meanSquare, expected ** 2);
      // Of the larger of its components.
      const uncertainty = Math.sqrt(variance / Math.max(plane.leverage, 1e-9));
      const slowness = Math.hypot(plane.gx, plane.gy);
      if (!(slowness > RESOLVED * uncertainty)) continue;
      motion.speed[at] = 1 / slowness;
      motion.speedUncertainty[at] = uncertainty / slowness ** 2;
      motion.angle[at] = (Math.atan2(plane.gy, plane.gx) * 180) / Math.PI;
      motion.angleUncertainty[at] = ((uncertainty / slowness) * 180) / Math.PI;
    }
  return motion;
}

/** Fills in the arrivals about a cell, places in px from there.
 *  @param uncertainties  of these arrivals, overwritten
 *  @returns whether there are enough of them */
function gather(
  { rows, columns, cell, arrival, standardUncertainty }: ArrivalMap,
  row: number,
  column: number,
  reach: number,
  plane: RobustPlane,
  uncertainties: Float64Array,
): boolean {
  const { x, y, t } = plane;
  const stride = strideOf(reach);
  const farthest = stride * Math.floor(reach / stride);
  let count = 0;
  let places = 0;
  for (let down = -farthest; down <= farthest; down += stride)
    for (let right = -farthest; right <= farthest; right += stride) {
      places++;
      const r = row + down;
      const c = column + right;
      if (r < 0 || c < 0 || r >= rows || c >= columns) continue;
      const at = r * columns + c;
      if (Number.isNaN(arrival[at])) continue;
      x[count] = right * cell;
      y[count] = down * cell;
      // From that of the cell itself, so that sums lose no digits.
      t[count] = arrival[at] - arrival[row * columns + column];
      uncertainties[count++] = standardUncertainty[at];
    }
  plane.count = count;
  return count >= LEAST_SHARE * places;
}

function strideOf(reach: number): number {
  return Math.max(1, Math.floor(reach / SAMPLES));
}

import type { CellGrid } from "./cell-grid.js";
import { median } from "./median.js";

/** How much brighter the light is than in a reference: a plane over the picture, since lamps that flicker or warm up do not
 *  all light it alike. */
export interface Light {
  /** At the first pixel. */
  readonly base: number;
  /** More for every row, and for every column. */
  readonly byRow: number;
  readonly byColumn: number;
}

const ROUNDS = 5;
/** Fewer bright cells than these give a median without slopes. */
const FEWEST_FOR_PLANE = 16;
/** A cell this many robust standard deviations off has no say (Tukey's biweight; common practice, no source). */
const NO_SAY = 4.685;

/** A plane through the ratios of the brighter half of the cells, robustly, so that what happens in fewer than half of these does not
 *  count as light.
 *  @returns ratio 1 everywhere where that cannot be told */
export function lightOf(descriptor: Float64Array, reference: Float64Array, grid: CellGrid): Light {
  const none = { base: 1, byRow: 0, byColumn: 0 };
  const { cells, centreRows, centreColumns } = grid;
  const bright = median(reference.subarray(0, cells));
  const used: number[] = [];
  for (let k = 0; k < cells; k++) if (reference[k] >= bright && reference[k] > 0) used.push(k);
  if (!used.length) return none;
  const ratios = Float64Array.from(used, (k) => descriptor[k] / reference[k]);
  const middle = median(ratios);
  if (!(middle > 0) || !Number.isFinite(middle)) return none;
  let light: Light = { ...none, base: middle };
  if (used.length < FEWEST_FOR_PLANE) return light;

  const off = new Float64Array(used.length);
  for (let round = 0; round < ROUNDS; round++) {
    for (let j = 0; j < used.length; j++) off[j] = Math.abs(ratios[j] - ratioAt(light, grid, used[j]));
    const limit = NO_SAY * Math.max(1e-9, 1.4826 * median(off));
    let [w, wx, wy, wz, wxx, wxy, wyy, wxz, wyz] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (let j = 0; j < used.length; j++) {
      if (off[j] >= limit) continue;
      const weight = (1 - (off[j] / limit) ** 2) ** 2;
      const x = centreColumns[used[j]] / grid.columns - 0.5;
      const y = centreRows[used[j]] / grid.rows - 0.5;
      const z = ratios[j] - middle;
      w += weight;
      wx += weight * x;
      wy += weight * y;
      wz += weight * z;
      wxx += weight * x * x;
      wxy += weight * x * y;
      wyy += weight * y * y;
      wxz += weight * x * z;
      wyz += weight * y * z;
    }
    if (!(w > 0)) return light;
    // Ridges far below the spread of cells over a picture: where all lie in one line that slope is 0.
    const xx = wxx - (wx * wx) / w + 1e-6 * w;
    const yy = wyy - (wy * wy) / w + 1e-6 * w;
    const xy = wxy - (wx * wy) / w;
    const xz = wxz - (wx * wz) / w;
    const yz = wyz - (wy * wz) / w;
    const determinant = xx * yy - xy * xy;
    const right = (xz * yy - yz * xy) / determinant;
    const down = (yz * xx - xz * xy) / determinant;
    const centre = middle + (wz - right * wx - down * wy) / w;
    const next = {
      base: centre - right / 2 - down / 2,
      byColumn: right / grid.columns,
      byRow: down / grid.rows,
    };
    // A light that is out, or less, somewhere in the picture is none.
    if (!(centre - Math.abs(right) / 2 - Math.abs(down) / 2 > 0.1 * middle)) return light;
    light = next;
  }
  return light;
}

/** The descriptor in the light of the reference; the mean of the whole keeps its own. */
export function inLightOf(descriptor: Float64Array, reference: Float64Array, grid: CellGrid): Float64Array {
  const light = lightOf(descriptor, reference, grid);
  const steady = descriptor.slice();
  for (let k = 0; k < grid.cells; k++) {
    const ratio = ratioAt(light, grid, k);
    steady[k] /= ratio;
    steady[grid.cells + k] /= ratio;
  }
  return steady;
}

/** Times the light of the reference in a cell. */
export function ratioAt({ base, byRow, byColumn }: Light, grid: CellGrid, cell: number): number {
  return base + byRow * grid.centreRows[cell] + byColumn * grid.centreColumns[cell];
}

import { type CellGrid, cellGrid, coarserMeans } from "./cell-means.js";
import { ChangeRing, type Window } from "./change-ring.js";
import { LightSteps } from "./light-steps.js";

/** Frames averaged into a bin: a window of short bins for fast fronts, of long ones for those that are slow or faint. */
const BINS = [1, 4, 16];
/** Cells so many times as large stand beside the small ones, for faint fronts. */
const COARSER = [4, 8];
/** A shape is told from cells of which there are so many each way. */
const FEWEST_CELLS = 8;

/** The changes of one size of cells and of bins. */
export interface Look {
  readonly grid: CellGrid;
  readonly ring: ChangeRing;
}

/** One pass over the frames: the greatest change of every cell, in cells of three sizes and windows of three lengths. */
export class FirstPass {
  readonly looks: readonly Look[][];
  readonly light: readonly LightSteps[];
  private readonly means: readonly Float64Array[];

  /** @param frames  how many will come
   *  @param mayGrow  whether larger cells may be tried, too */
  constructor(
    rows: number,
    columns: number,
    frames: number,
    { cell, mayGrow }: { cell: number; mayGrow: boolean },
  ) {
    const window = windowOf(frames);
    const factors = COARSER.filter(
      (factor) => mayGrow && factor * cell * FEWEST_CELLS <= Math.min(rows, columns),
    );
    const grids = [1, ...factors].map((factor) => cellGrid(rows, columns, factor * cell));
    this.looks = grids.map((grid) =>
      BINS.filter((bin, k) => k === 0 || frames >= bin * (2 * window.level + window.gap + 1)).map((bin) => ({
        grid,
        ring: new ChangeRing(grid.rows * grid.columns, bin, window),
      })),
    );
    this.means = grids.map((grid) => new Float64Array(grid.rows * grid.columns));
    this.light = grids.map((grid) => new LightSteps(grid.rows * grid.columns));
  }

  /** The smallest cells. */
  get fineGrid(): CellGrid {
    return this.looks[0][0].grid;
  }

  /** @param fine  means of the smallest cells in the next frame */
  push(fine: Float64Array): void {
    const { means, looks, fineGrid } = this;
    means[0].set(fine);
    for (let k = 1; k < means.length; k++) coarserMeans(means[0], fineGrid, looks[k][0].grid, means[k]);
    // In the largest cells the light stands out best from the noise.
    let light = 1;
    means.forEach((cells, k) => {
      light = this.light[k].push(cells);
    });
    for (let k = 0; k < means.length; k++) {
      for (let i = 0; i < means[k].length; i++) means[k][i] /= light;
      for (const { ring } of looks[k]) ring.push(means[k]);
    }
  }
}

/** Fewest frames of which a map can be made. */
export const FEWEST_FRAMES = 7;

/** A gap of five between two levels of four, less where there are few frames. */
function windowOf(frames: number): Window {
  return frames >= 17 ? { level: 4, gap: 5 } : { level: 2, gap: 3 };
}

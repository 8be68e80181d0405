import { type CellGrid, coarserMeans } from "./cell-means.js";

/** Most that is kept, bytes: 400 frames of 40,000 cells. */
const MOST_BYTES = 64e6;

/** The cells of all frames, where they are few enough to be kept: they need not be read a second time then. */
export class KeptMeans {
  private readonly kept: Float32Array[] | null;

  constructor(
    private readonly grid: CellGrid,
    frames: number,
  ) {
    const bytes = frames * grid.rows * grid.columns * Float32Array.BYTES_PER_ELEMENT;
    this.kept = bytes <= MOST_BYTES ? [] : null;
  }

  get isWhole(): boolean {
    return this.kept !== null;
  }

  push(means: Float64Array): void {
    this.kept?.push(Float32Array.from(means));
  }

  /** Calls back with the means of every frame in order, in cells as large as those kept or a whole number of times as large.
   *  The array is the same for every frame. */
  forEach(grid: CellGrid, work: (means: Float64Array) => void): void {
    const fine = new Float64Array(this.grid.rows * this.grid.columns);
    const means = grid.cell === this.grid.cell ? fine : new Float64Array(grid.rows * grid.columns);
    for (const frame of this.kept ?? []) {
      fine.set(frame);
      if (means !== fine) coarserMeans(fine, this.grid, grid, means);
      work(means);
    }
  }
}

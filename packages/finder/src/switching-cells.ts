import type { NdArray } from "ndarray";
import { type CellGrid, describeFrame } from "./cell-grid.js";
import type { FrameReader } from "./frame-reader.js";
import { type Light, lightOf, ratioAt } from "./light.js";
import type { FrameSamples } from "./types.js";

/** Frames that tell it. */
const FRAMES = 16;
/** So many changes from one to the next show it: one event changes a place once and back. */
const CHANGES = 3;
/** Where the changes of pixels are normally distributed, as those of noise are, their mean is some 2.5 times their lower quartile; a flicker hardly
 *  ever makes the third greatest of them 10 times. */
const SWITCHING = 10;

/** Pixels of a cell along either side that are looked at, about, at most. */
const SIDE = 12;

/** Of some cells those whose pixels stay as they are from many frames to the next, but for their noise, and else change by much more, as those of
 *  digits do. Where the light flickers, or the noise is greater than elsewhere, all pixels change a little all the time.
 *  @param places  of frames spread over the take, increasing */
export async function switchingCells(
  reader: FrameReader,
  places: readonly number[],
  cells: readonly number[],
): Promise<readonly number[]> {
  if (cells.length === 0) return [];
  const { grid } = reader;
  const samples: Float32Array[][] = [];
  let reference: Float64Array | null = null;
  let step = 0;
  for (let i = 0; i < FRAMES; i++) {
    const at = places[Math.floor((i * places.length) / FRAMES)];
    for await (const { frame } of reader.run(at, at + 1)) {
      const descriptor = describeFrame(frame, grid);
      reference ??= descriptor;
      step ||= reader.roundingStep(reference[grid.size - 1]);
      const light = lightOf(descriptor, reference, grid);
      samples.push(cells.map((cell) => samplesOf(frame, cell, light, grid)));
    }
  }
  return cells.filter((_, i) => {
    const ofCell = samples.map((of) => of[i]);
    return isSwitching(ofCell, step);
  });
}

/** @param values  pixels of a cell in the frames */
function isSwitching(values: readonly Float32Array[], step: number): boolean {
  const changes = values.slice(1).map((later, j) => later.map((value, k) => Math.abs(value - values[j][k])));
  let usual = 0;
  for (let pixel = 0; pixel < values[0].length; pixel++) {
    const ofPixel = changes.map((of) => of[pixel]).sort((a, b) => a - b);
    usual += Math.max(step, ofPixel[ofPixel.length >> 2]);
  }
  const sums = changes.map((of) => of.reduce((sum, value) => sum + value, 0)).sort((a, b) => b - a);
  return sums[CHANGES - 1] > SWITCHING * usual;
}

/** Pixels spread over a cell, in the light of the reference. */
function samplesOf(frame: NdArray<FrameSamples>, cell: number, light: Light, grid: CellGrid): Float32Array {
  const { rowEdges, columnEdges } = grid;
  const across = columnEdges.length - 1;
  const [down, aside] = [Math.floor(cell / across), cell % across];
  const ratio = ratioAt(light, grid, cell);
  const every = Math.ceil((rowEdges[down + 1] - rowEdges[down]) / SIDE);
  const samples: number[] = [];
  for (let row = rowEdges[down]; row < rowEdges[down + 1]; row += every)
    for (let column = columnEdges[aside]; column < columnEdges[aside + 1]; column += every)
      samples.push(frame.get(row, column) / ratio);
  return Float32Array.from(samples);
}

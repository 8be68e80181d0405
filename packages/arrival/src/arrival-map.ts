import { cellMeans } from "./cell-means.js";
import { type ChosenLook, chooseLook } from "./choose-look.js";
import { FEWEST_FRAMES, FirstPass } from "./first-pass.js";
import { frameTimes, timeAtIndex } from "./frame-times.js";
import { KeptMeans } from "./kept-means.js";
import { localMedian } from "./local-median.js";
import { type KeptFrame, LostFrames } from "./lost-frames.js";
import { SecondPass } from "./second-pass.js";
import type { ArrivalMap, ArrivalMapOptions, ArrivalSource } from "./types.js";

/** Most cells of a map where the cell is not given. */
const MOST_CELLS = 40_000;

/** The time at which a front arrived, for every cell of the picture. Two passes, of which the second reads no frames where the cells of all are few enough to be
 *  kept: the first finds, cell by cell, the gap between two levels
 *  with the greatest change; the second times the change in a fixed window about the local median of those times, as an
 *  area. What it holds in memory is some pictures of cells and those 64 MB, however many frames there are.
 *  @throws RangeError on a cell larger than the picture, a frame range that holds fewer than seven frames, a sample that
 *    is not a finite number (`samples-not-finite`); the signal's reason when aborted */
export async function arrivalMap(
  source: ArrivalSource,
  options: ArrivalMapOptions = {},
): Promise<ArrivalMap> {
  const { rows, columns } = source;
  const { start, end } = rangeOf(source, options);
  const count = end - start;
  const cell = options.cell ?? Math.max(1, Math.ceil(Math.sqrt((rows * columns) / MOST_CELLS)));
  const first = new FirstPass(rows, columns, count, { cell, mayGrow: options.cell === undefined });
  const kept = new KeptMeans(first.fineGrid, count);
  const fine = new Float64Array(first.fineGrid.rows * first.fineGrid.columns);
  const lost = new LostFrames(fine.length, count);
  const used: number[] = [];
  const push = ({ index, means }: KeptFrame) => {
    used.push(index);
    kept.push(means);
    first.push(means);
  };
  await forEachFrame(source, { start, end }, "changes", options, (frame, index) => {
    cellMeans(frame, source.numbers[start + index], first.fineGrid, fine);
    lost.push(fine).forEach(push);
  });
  lost.finish().forEach(push);
  const numbers = used.map((index) => source.numbers[start + index]);

  const chosen = chooseLook(first);
  const { grid, ring } = chosen.look;
  const { level, gap } = ring.window;
  const levelFrames = level * ring.framesPerBin;
  const halfGapFrames = ((gap + 1) / 2) * ring.framesPerBin;
  const { noise, flickers, kind, polarity } = chosen;
  const about = localMedian(timesOf(chosen, numbers), grid);
  const second = new SecondPass(numbers, { about, kind, levelFrames, halfGapFrames, noise, flickers });
  if (kept.isWhole) kept.forEach(grid, (means) => second.push(means));
  else {
    const means = new Float64Array(grid.rows * grid.columns);
    const isUsed = new Set(used);
    await forEachFrame(source, { start, end }, "arrivals", options, (frame, index) => {
      if (!isUsed.has(index)) return;
      cellMeans(frame, source.numbers[start + index], grid, means);
      second.push(means);
    });
  }
  const guard = levelFrames + halfGapFrames;
  return {
    cell: grid.cell,
    rows: grid.rows,
    columns: grid.columns,
    ...second.finish(),
    kind,
    polarity,
    earliest: numbers[0] + guard,
    latest: numbers[numbers.length - 1] - guard,
    levelFrames,
    halfGapFrames,
    noise,
    flickers,
  };
}

function timesOf({ index }: ChosenLook, numbers: readonly number[]): Float64Array {
  const frames = frameTimes(numbers);
  return index.map((at) => (Number.isNaN(at) ? at : timeAtIndex(frames, at)));
}

function rangeOf({ numbers }: ArrivalSource, { firstFrame, lastFrame }: ArrivalMapOptions) {
  const start = numbers.findIndex((number) => number >= (firstFrame ?? Number.NEGATIVE_INFINITY));
  const end = numbers.findLastIndex((number) => number <= (lastFrame ?? Number.POSITIVE_INFINITY)) + 1;
  if (start < 0 || end - start < FEWEST_FRAMES)
    throw new RangeError(
      `an arrival map needs at least ${FEWEST_FRAMES} frames, got ${start < 0 ? 0 : Math.max(0, end - start)} of ${numbers.length}`,
    );
  return { start, end };
}

async function forEachFrame(
  source: ArrivalSource,
  { start, end }: { start: number; end: number },
  stage: string,
  { signal, onProgress }: ArrivalMapOptions,
  work: (frame: Parameters<typeof cellMeans>[0], index: number) => void,
): Promise<void> {
  let done = 0;
  for await (const { frame } of source.frames({ start, end }, undefined, signal ? { signal } : {})) {
    signal?.throwIfAborted();
    work(frame, done);
    onProgress?.({ stage, done: ++done, total: end - start });
  }
}

import type { StreakPicture } from "./streak-picture.js";

/** How the streak lies on its plot: what the axes span and how many px they take. */
export interface StreakLayout {
  /** Frame numbers at the left and right edge; a frame's column is about its number. */
  readonly frameDomain: readonly [number, number];
  /** Positions at the bottom and top edge, px of the streak; a sample is centred on its position. */
  readonly positionDomain: readonly [number, number];
  /** Where the columns begin and end, in frame numbers, shape (frames, 2). */
  readonly columns: readonly (readonly [left: number, right: number])[];
  /** The numbers are times: not all of them are whole. */
  readonly areTimes: boolean;
  /** Columns between first and last frame for which there is no frame. */
  readonly missingFrames: number;
  readonly plotWidth: number;
  readonly plotHeight: number;
}

const WANTED_WIDTH = 960;
const WANTED_HEIGHT = 560;

/** Lays out the plot. Columns are as wide as the smallest distance of two numbers, and what is left between them has no frame; those of frames at
 *  irregular times reach half-way to their neighbours. Few samples are enlarged by a whole factor, so that all look alike; very many are squeezed. */
export function layOutStreak(picture: StreakPicture): StreakLayout {
  const { shape, frameNumbers, positionsPixels } = picture;
  let framePitch = Number.POSITIVE_INFINITY;
  for (let i = 1; i < frameNumbers.length; i++) {
    framePitch = Math.min(framePitch, frameNumbers[i] - frameNumbers[i - 1]);
  }
  if (framePitch === Number.POSITIVE_INFINITY) framePitch = 1;
  const first = frameNumbers[0];
  const last = frameNumbers[frameNumbers.length - 1];
  const half = framePitch / 2;
  const areTimes = !frameNumbers.every(Number.isInteger);
  const between = (a: number | undefined, b: number | undefined) =>
    areTimes && a !== undefined && b !== undefined ? (a + b) / 2 : null;
  const bottom = positionsPixels.first - positionsPixels.step / 2;
  return {
    frameDomain: [first - half, last + half],
    positionDomain: [bottom, bottom + shape[1] * positionsPixels.step],
    columns: frameNumbers.map((number, i) => [
      between(frameNumbers[i - 1], number) ?? number - half,
      between(number, frameNumbers[i + 1]) ?? number + half,
    ]),
    areTimes,
    missingFrames: areTimes ? 0 : Math.round((last - first) / framePitch) + 1 - frameNumbers.length,
    plotWidth: plotLength((last - first) / framePitch + 1, WANTED_WIDTH),
    plotHeight: plotLength(shape[1], WANTED_HEIGHT),
  };
}

function plotLength(samples: number, wanted: number): number {
  const limit = 1.5 * wanted;
  return samples > limit ? limit : Math.round(samples * Math.max(1, Math.round(wanted / samples)));
}

import { flickerAgainstModel } from "./light/flicker.js";
import { acrossShift } from "./picture-motion/across-shift.js";
import { edgeShift } from "./picture-motion/edge-shift.js";
import { type PictureShift, pictureShift } from "./picture-motion/picture-shift.js";
import { steadySamples } from "./picture-motion/steady-samples.js";
import { bandsOf, frameRange } from "./streak/bands-of.js";
import { streakNoise } from "./streak/noise.js";
import { readStreaks, type StripedStreak } from "./streak/read-streak.js";
import { whiteLevel } from "./streak/white-level.js";
import { frameTiming } from "./timing/frame-timing.js";
import type { Footage, FrameSource, ShiftOfFootage, TrackOptions } from "./types.js";

/** A frame shows light where the mean along the path is so many noise levels. */
const LIT = 5;
/** Light is that of which the halves of the path differ by less than this part, in squares. */
const NOT_SHARED = 0.25;
/** Fewer do not tell noise from texture. */
const FEWEST_FRAMES = 4;

/** What frames in which nothing runs show of light, noise, frames and camera: how a front will be seen in them.
 *  @throws RangeError as `trackFront`; the signal's reason when aborted */
export async function inspectFootage(
  source: FrameSource,
  options: Pick<TrackOptions, "path" | "width" | "firstFrame" | "lastFrame" | "signal" | "onProgress"> = {},
): Promise<Footage> {
  const { start, end } = frameRange(source, options);
  const streaks = await readStreaks(source, bandsOf(source, options), start, end, options);
  // Bands of the whole picture hold the same samples; averaged over fewer, those of the longest tell most.
  const streak = streaks.reduce((a, b) => (b.shape[1] > a.shape[1] ? b : a));
  const noise = streakNoise(streak.data, streak.shape, streak.roundingNoise);
  const levels = meanOverFrames(streak);
  const level = levels.reduce((sum, value) => sum + value, 0) / levels.length;
  const timing = frameTiming(streak);
  const white = whiteLevel(streak.ceiling.value, source.bitDepth);
  return {
    path: streak.path,
    width: streak.width,
    effectiveRows: streak.effectiveRows,
    frameNumbers: streak.storedNumbers,
    timing:
      timing.seen === "copies"
        ? { seen: "copies", frames: timing.copies.map((k) => streak.storedNumbers[k]) }
        : timing,
    brightest: { value: streak.ceiling.value, share: streak.ceiling.share },
    white,
    clippedShare: clippedShare(streak, white),
    level,
    noise: streak.shape[0] < FEWEST_FRAMES ? null : noiseOf(streak, noise),
    light: level > LIT * noise ? lightOf(streak, levels, noise) : null,
    shift: shiftOf(streak),
  };
}

function clippedShare({ ceiling }: StripedStreak, white: number | null): number {
  if (white === null) return 0;
  return ceiling.zeroShare + (ceiling.value >= white ? ceiling.share : 0);
}

/** Rows of alike noise count for fewer, so that a step over that of a pixel is what a result calls step to noise. */
function noiseOf({ effectiveRows, width }: StripedStreak, sample: number): Footage["noise"] {
  return { pixel: sample * Math.sqrt(effectiveRows ?? width), sample };
}

function meanOverFrames({ data, shape: [frames, positions] }: StripedStreak): Float64Array {
  const mean = new Float64Array(positions);
  for (let at = 0, p = 0; at < data.length; at++, p = p + 1 === positions ? 0 : p + 1)
    mean[p] += data[at] / frames;
  return mean;
}

/** Brightness of the frames against their mean. */
function lightOf({ data, shape }: StripedStreak, levels: Float64Array, noise: number): Footage["light"] {
  const models = Array.from(levels, (before, position) => ({ position, before, change: 0, near: [] }));
  const frontPixels = new Float64Array(shape[0]).fill(Number.NEGATIVE_INFINITY);
  const nothing = { models, state: { shape: "step", sense: 1, frontPixels } } as const;
  const gain = flickerAgainstModel(data, shape, noise, nothing, Array.from(frontPixels.keys()));
  const squares = levels.reduce((sum, value) => sum + value * value, 0);
  const standardUncertainty = noise / Math.sqrt(squares);
  return {
    gain,
    standardUncertainty,
    isShared: gain === null || isShared(data, levels, gain, standardUncertainty),
  };
}

/** Whether both halves of the path vary as the whole does: what runs over the path does not. */
function isShared(
  data: Float64Array,
  levels: Float64Array,
  gain: Float64Array,
  standardUncertainty: number,
): boolean {
  const middle = levels.length >> 1;
  const squares = levels.map((level) => level * level);
  const half = (frame: number, from: number, to: number) => {
    let product = 0;
    let square = 0;
    for (let p = from; p < to; p++) {
      product += levels[p] * data[frame * levels.length + p];
      square += squares[p];
    }
    return square > 0 ? product / square : 1;
  };
  let apart = 0;
  let together = 0;
  gain.forEach((value, frame) => {
    const difference = half(frame, 0, middle) - half(frame, middle, levels.length);
    // Each half knows its own gain sqrt(2) times worse than the whole.
    apart += Math.max(0, difference ** 2 - 4 * standardUncertainty ** 2) / 4;
    together += (value - 1) ** 2;
  });
  return apart < NOT_SHARED * together;
}

function shiftOf(streak: StripedStreak): Footage["shift"] {
  const samples = steadySamples([], streak, streak);
  const along = pictureShift(streak.data, streak.shape, samples, streak.roundingNoise);
  const across = acrossShift(streak, samples);
  const edge = along ? null : edgeShift(streak, samples);
  return {
    along: along && ofFrames(along),
    alongByEdge: edge && ofFrames(edge),
    across: across && {
      shiftPixels: across.shiftPixels,
      standardUncertaintyPixels: across.standardUncertaintyPixels,
      moves: true,
    },
  };
}

function ofFrames({ shiftPixels, standardUncertaintyPixels, moves }: PictureShift): ShiftOfFootage {
  const known = Array.from(standardUncertaintyPixels).filter(Number.isFinite);
  return {
    shiftPixels,
    standardUncertaintyPixels: Math.sqrt(known.reduce((sum, u) => sum + u * u, 0) / known.length),
    moves,
  };
}

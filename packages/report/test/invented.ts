import type { FitPicture, FitPoint, StreakPicture } from "../src/index.js";

/** A small generator with a seed, so that invented noise is the same in every run. */
function seededNoise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32 - 0.5;
  };
}

/** An invented streak: 10 behind the front, 200 before it has passed; the front stands at `start + step * row`. */
export function inventStreak(
  frameNumbers: readonly number[],
  positions: number,
  { brightUpTo }: { readonly brightUpTo: (frame: number) => number },
): StreakPicture {
  const data = new Float32Array(frameNumbers.length * positions);
  frameNumbers.forEach((frame, row) => {
    for (let p = 0; p < positions; p++) data[row * positions + p] = p <= brightUpTo(frame) ? 200 : 10;
  });
  return {
    data,
    shape: [frameNumbers.length, positions],
    frameNumbers,
    positionsPixels: { first: 0, step: 1 },
    title: "Invented tile",
  };
}

/** Invented points on position = 30 + 7.5 frame with residuals of that scale; the frames listed are rejected. */
export function inventFit(
  frames: readonly number[],
  { scale = 0.02, rejected = [] as readonly number[], rejectedResidual = 5 } = {},
): FitPicture {
  const noise = seededNoise(7);
  const points: FitPoint[] = frames.map((frame) => {
    const used = !rejected.includes(frame);
    const residualPixels = used ? scale * noise() : rejectedResidual;
    return {
      frame,
      positionPixels: 30 + 7.5 * frame + residualPixels,
      standardUncertaintyPixels: scale / 4,
      residualPixels,
      used,
    };
  });
  const line = {
    interceptPixels: 30,
    slopePixelsPerFrame: 7.5,
    firstFrame: frames[0],
    lastFrame: frames[frames.length - 1],
  };
  return { points, line, title: "Invented tile" };
}

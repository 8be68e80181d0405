import { randomFrom } from "../../random.js";
import type { DrawnTake } from "../draw-take.js";
import { drawLevels, drawUnits, drawView } from "../drawn-parts.js";

/** What an item asks of the take it is added to. */
export interface BaseOptions {
  /** Fewest frames in which the front is in the picture. Default 20. */
  readonly leastSeen?: number;
  /** Exactly this many. */
  readonly seen?: number;
  /** Bits per sample. Default drawn from 8 to 16. */
  readonly bits?: number;
  /** Longest way through the picture, px. Default 400. */
  readonly longest?: number;
}

export interface Base {
  readonly take: DrawnTake;
  readonly deviation: number;
}

/** A clean take to which something difficult is added: a step with dirt and white noise that runs steadily. */
export function drawBase(
  seed: number,
  { leastSeen = 20, seen, bits: wantedBits, longest = 400 }: BaseOptions,
  still = false,
): Base {
  const random = randomFrom(seed);
  const motion = seen === undefined ? steady() : brief(seen);
  const { frames, along, pixelsPerFrame, enters } = motion;
  const front = Float64Array.from({ length: frames }, (_, i) =>
    still ? Number.NEGATIVE_INFINITY : -0.5 + pixelsPerFrame * (i - enters),
  );
  const levels = drawLevels(random, wantedBits);
  const stepToNoise = random.logUniform(3, 30);
  const units = drawUnits(random, 1e-4, 1e-2);
  const deviation =
    (1 + units.relativeRateUncertainty * random.normal()) *
    (1 + units.relativeScaleUncertainty * random.normal());
  const numbers = Array.from({ length: frames }, (_, i) => i);
  const take: DrawnTake = {
    seed,
    frames,
    numbers,
    across: random.integer(8, 32),
    along,
    ...drawView(random, 3),
    ...levels,
    pixelsPerFrame: still ? 0 : pixelsPerFrame,
    front,
    seenIn: numbers.filter((i) => front[i] >= 0 && front[i] <= along - 1).length,
    noise: levels.step / stepToNoise,
    stepToNoise,
    wander: null,
    light: new Float64Array(frames).fill(1),
    ...units,
    trueSpeed: pixelsPerFrame * units.rateHz * units.metresPerPixel * deviation,
  };
  return { take, deviation };

  /** The front crosses the picture, or a slow one part of it, and is seen in at least `leastSeen` frames. */
  function steady() {
    const frames = Math.round(random.logUniform(leastSeen + 4, 150));
    // A front that moves less than a few of its own widths is told from nothing by no method.
    const pixelsPerFrame = random.logUniform(Math.max(0.3, 24 / frames), longest / leastSeen);
    const most = Math.min(frames - 2, longest / pixelsPerFrame);
    const least = Math.min(most, Math.max(leastSeen + 1, 24 / pixelsPerFrame));
    const travel = pixelsPerFrame * random.uniform(least, most);
    const along = Math.max(64, Math.ceil(travel));
    // Where the picture is longer than the way, the take begins or ends with the front inside.
    const crossing = along / pixelsPerFrame;
    const wanted = travel / pixelsPerFrame;
    const enters = random.uniform(wanted - crossing, frames - wanted);
    return { frames, along, pixelsPerFrame, enters };
  }

  /** A fast front in `wantedSeen` frames, with frames before it and in most takes frames after it. */
  function brief(wantedSeen: number) {
    const along = random.integer(64, Math.min(longest, Math.max(96, wantedSeen * 20)));
    const pixelsPerFrame = along / wantedSeen;
    const before = random.integer(4, 15);
    const after = random.uniform() < 0.75 ? random.integer(4, 15) : 0;
    return {
      frames: before + wantedSeen + after,
      along,
      pixelsPerFrame,
      // The front stands inside the picture in frames before, before + 1 … and in no other, by 0.2 px at least.
      enters: before - random.uniform(0.7 / pixelsPerFrame, 1 - 0.7 / pixelsPerFrame),
    };
  }
}

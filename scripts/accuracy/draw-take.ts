import { type Random, randomFrom } from "../random.js";
import { drawLevels, drawUnits, drawView } from "./drawn-parts.js";

/** One invented take: everything that is drawn before it is rendered. */
export interface DrawnTake {
  readonly seed: number;
  readonly frames: number;
  /** Frame numbers kept; up to 5 % are missing. */
  readonly numbers: readonly number[];
  /** Rows across the front's way and positions along it, px. */
  readonly across: number;
  readonly along: number;
  readonly direction: "right" | "left" | "down" | "up";
  readonly polarity: 1 | -1;
  /** 0 where nothing moves. */
  readonly pixelsPerFrame: number;
  /** Front at mid-exposure of each frame number 0..frames − 1, px along its way, wander included. */
  readonly front: Float64Array;
  /** Frames in which the front is inside the picture. */
  readonly seenIn: number;
  readonly blurPixels: number;
  readonly exposureFraction: number;
  /** Whether the operator states the exposure. */
  readonly exposureStated: boolean;
  readonly bits: number;
  /** DN */
  readonly before: number;
  readonly step: number;
  readonly noise: number;
  readonly stepToNoise: number;
  readonly wander: { readonly standardDeviation: number; readonly correlation: number } | null;
  /** Relative brightness of the light in each frame; 1 without flicker. */
  readonly light: Float64Array;
  readonly rateHz: number;
  readonly relativeRateUncertainty: number;
  readonly metresPerPixel: number;
  readonly relativeScaleUncertainty: number;
  /** m/s with the rate and scale that really held, drawn from their stated distributions. */
  readonly trueSpeed: number;
}

export interface DrawOptions {
  /** No wander. */
  readonly whiteOnly?: boolean;
  /** Nothing moves. */
  readonly still?: boolean;
  /** Whole-picture flicker up to this. Default 0. */
  readonly flicker?: number;
}

/** Longest way through the picture, px. */
const LONGEST = 1000;

export function drawTake(seed: number, options: DrawOptions = {}): DrawnTake {
  const random = randomFrom(seed);
  const frames = Math.round(random.logUniform(20, 400));
  const pixelsPerFrame = random.logUniform(0.1, Math.min(100, LONGEST / 6));
  const wantedSeen = Math.min(random.logUniform(6, frames), LONGEST / pixelsPerFrame);
  const along = Math.max(64, Math.round(pixelsPerFrame * wantedSeen));
  const across = random.integer(8, 32);
  const numbers = thin(frames, random.uniform(0, 0.05), random);
  const wander =
    !options.whiteOnly && frames >= 60
      ? { standardDeviation: random.uniform(0, 1), correlation: random.uniform(0, 0.8) }
      : null;
  const front = new Float64Array(frames);
  // Either the front enters at the edge after some frames, or the take begins with it inside.
  const crossing = along / pixelsPerFrame;
  const slack = frames - 6;
  const enters = random.uniform(Math.max(-crossing + 6, Math.min(0, slack - crossing)), slack);
  let departure = 0;
  for (let i = 0; i < frames; i++) {
    if (wander) {
      const { standardDeviation: sd, correlation: r } = wander;
      departure =
        i === 0 ? sd * random.normal() : r * departure + sd * Math.sqrt(1 - r * r) * random.normal();
    }
    front[i] = -0.5 + pixelsPerFrame * (i - enters) + departure;
  }
  const levels = drawLevels(random);
  const stepToNoise = random.logUniform(1, 50);
  const light = Float64Array.from({ length: frames }, () => 1);
  if (options.flicker) {
    const depth = random.uniform(0, options.flicker);
    const period = random.uniform(2.3, 30);
    for (let i = 0; i < frames; i++) light[i] += depth * Math.sin((2 * Math.PI * i) / period);
  }
  const units = drawUnits(random, 1e-4, 1e-2);
  const trueSpeed =
    pixelsPerFrame *
    units.rateHz *
    (1 + units.relativeRateUncertainty * random.normal()) *
    units.metresPerPixel *
    (1 + units.relativeScaleUncertainty * random.normal());
  return {
    seed,
    frames,
    numbers,
    across,
    along,
    ...drawView(random, 4),
    ...levels,
    pixelsPerFrame: options.still ? 0 : pixelsPerFrame,
    front: options.still ? front.fill(Number.NEGATIVE_INFINITY) : front,
    seenIn: numbers.filter((i) => front[i] >= 0 && front[i] <= along - 1).length,
    noise: levels.step / stepToNoise,
    stepToNoise,
    wander,
    light,
    ...units,
    trueSpeed,
  };
}

function thin(frames: number, share: number, random: Random): number[] {
  const kept: number[] = [];
  for (let i = 0; i < frames; i++) if (i === 0 || random.uniform() >= share) kept.push(i);
  return kept;
}

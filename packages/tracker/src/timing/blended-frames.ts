import type { StripedStreak } from "../streak/read-streak.js";
import type { DifferencesInTime } from "./differences-in-time.js";
import { DIFFERENCES } from "./path-part.js";
import { type BlendPattern, ofEveryPattern, sourceShares } from "./source-shares.js";

/** Of what the noise of three kinds of differences varies about their means, a conversion must explain this much: it has
 *  one free number, the means have three. */
const EXPLAINED = 0.75;
/** Fewer frames, or fewer periods of the pattern, may show it by chance; of a long one the first shows it. */
const LEAST_FRAMES = 16;
const LEAST_PERIODS = 3;
const LONG_PERIOD = 24;
/** Noise below this many times the variance of rounding is not independent of it. */
const LEAST_NOISE = 3;
/** Where a frame should be the mean of its neighbours, the whole path is: within this share of what other frames depart
 *  by noise alone. */
const WHOLE = 0.5;

/** Kinds of differences that tell. */
const BLEND_KINDS = ["first", "second", "across"] as const;

type BlendKind = (typeof BLEND_KINDS)[number];

/** Noise seen in one difference. */
interface Sample {
  readonly frame: number;
  readonly kind: BlendKind;
  /** DN² */
  readonly variance: number;
}

/** Frames that are weighted means of two frames of a source at another rate: their noise is smaller, and shared with
 *  their neighbours, in a pattern that the two rates rule. Looked for in the noise of differences of neighbours, of second
 *  differences, and of differences across a frame: independent noise gives each of them everywhere the same, and noise that
 *  lasts lowers the third as well. The pattern is one of frames as they are stored, also where a table tells their times.
 *  @returns the conversion that explains it, or null */
export function blendedFrames(
  { storedNumbers, roundingNoise, width }: Pick<StripedStreak, "storedNumbers" | "roundingNoise" | "width">,
  seen: Readonly<Record<BlendKind, DifferencesInTime>>,
): BlendPattern | null {
  if (storedNumbers.length < LEAST_FRAMES) return null;
  const step = storedNumbers
    .slice(1)
    .reduce((least, number, k) => Math.min(least, number - storedNumbers[k]), Number.POSITIVE_INFINITY);
  const place = (i: number) => Math.round((storedNumbers[i] - storedNumbers[0]) / step);
  const follows = (i: number) => storedNumbers[i] - storedNumbers[i - 1] === step;
  // Where many frames are missing few follow each other: a pattern explains any three or four.
  if (storedNumbers.filter((_, i) => i > 0 && follows(i)).length < LEAST_FRAMES - 1) return null;
  const rounding = roundingNoise ** 2 * width;
  const samples = BLEND_KINDS.flatMap((kind) => {
    const isTold = (i: number) => follows(i) && (kind === "first" || follows(i + 1));
    const squares = DIFFERENCES[kind].reduce<number>((sum, c) => sum + c * c, 0);
    return seenIn(seen[kind].typical, kind, isTold, squares * rounding);
  });
  const about = BLEND_KINDS.reduce((sum, kind) => {
    const variances = samples.filter((s) => s.kind === kind).map(({ variance }) => variance);
    const mean = meanOf(variances);
    return variances.reduce((rest, variance) => rest + (variance - mean) ** 2, sum);
  }, 0);
  let best: BlendPattern | null = null;
  let least = (1 - EXPLAINED) * about;
  const total = samples.reduce((sum, { variance }) => sum + variance * variance, 0);
  for (const { source, every, placed } of blendPatterns()) {
    if (place(storedNumbers.length - 1) < Math.min(LEAST_PERIODS * every, LONG_PERIOD)) continue;
    const seenAt = byPhase(samples, every, (frame) => place(frame) % every);
    for (const noise of placed) {
      const { product, square } = productsOf(seenAt, noise);
      const variance = product / square;
      if (!(variance > LEAST_NOISE * rounding)) continue;
      const left = total - variance * product;
      if (left > least) continue;
      const isMean = (frame: number) => noise.second[place(frame) % every] < 1e-9;
      if (!isMeanThroughout(seen.second.largest, samples, isMean)) continue;
      least = left;
      best = { source, every };
    }
  }
  return best;
}

/** Of one kind, by the place in the pattern: Σ variance and the number of samples, shape (every,) each. */
interface SeenByPhase {
  readonly sum: Float64Array;
  readonly count: Float64Array;
}

function byPhase(
  samples: readonly Sample[],
  every: number,
  phaseOf: (frame: number) => number,
): Record<BlendKind, SeenByPhase> {
  const blank = () => ({ sum: new Float64Array(every), count: new Float64Array(every) });
  const seen = { first: blank(), second: blank(), across: blank() };
  for (const { frame, kind, variance } of samples) {
    const phase = phaseOf(frame);
    seen[kind].sum[phase] += variance;
    seen[kind].count[phase]++;
  }
  return seen;
}

/** Σ seen · predicted and Σ predicted² over all samples. */
function productsOf(seen: Record<BlendKind, SeenByPhase>, predicted: Record<BlendKind, readonly number[]>) {
  let product = 0;
  let square = 0;
  for (const kind of BLEND_KINDS) {
    const { sum, count } = seen[kind];
    predicted[kind].forEach((noise, phase) => {
      product += sum[phase] * noise;
      square += count[phase] * noise * noise;
    });
  }
  return { product, square };
}

/** Noise variances less that of rounding, the largest few, which something else makes, capped. */
function seenIn(
  typical: Float64Array,
  kind: BlendKind,
  isTold: (frame: number) => boolean,
  rounding: number,
): Sample[] {
  const told = Array.from(typical.keys()).filter((i) => !Number.isNaN(typical[i]) && isTold(i));
  const sorted = told.map((i) => typical[i]).sort((a, b) => a - b);
  const cap = 1.5 * sorted[Math.floor(0.9 * sorted.length)];
  return told.map((frame) => ({
    frame,
    kind,
    variance: Math.max(0, Math.min(cap, typical[frame]) - rounding),
  }));
}

/** Noise of differences between frames k that stand at (k · source + phase) / every in the source, in variances of a
 *  source frame, shape (every,) each. */
function noiseOfBlends(source: number, every: number, phase: number): Record<BlendKind, number[]> {
  const table = (kind: BlendKind) =>
    sourceShares(kind, source, every, phase).map((shares) =>
      shares.reduce((sum, share) => sum + share * share, 0),
    );
  return { first: table("first"), second: table("second"), across: table("across") };
}

const blendPatterns = ofEveryPattern(noiseOfBlends);

/** A compressed original may hold still parts as means; its front it does not. */
function isMeanThroughout(
  largest: Float64Array,
  samples: readonly Sample[],
  isMean: (frame: number) => boolean,
): boolean {
  const seconds = samples.filter(({ kind }) => kind === "second");
  const means = seconds.filter(({ frame }) => isMean(frame));
  if (means.length === 0) return true;
  const others = meanOf(seconds.filter(({ frame }) => !isMean(frame)).map(({ variance }) => variance));
  return meanOf(means.map(({ frame }) => largest[frame])) < WHOLE * others;
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

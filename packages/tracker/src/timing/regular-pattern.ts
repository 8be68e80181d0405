import { CONVERTED_RATES } from "./converted-rates.js";

/** A conversion that explains which frames are copies. */
export interface CopyPattern {
  /** So many frames of every `every` are copies. */
  readonly copies: number;
  readonly every: number;
}

/** Fewer copies than this, or fewer periods of the pattern, may come together by chance. */
const LEAST_COPIES = 4;
const LEAST_PERIODS = 3;
/** One copy in so many may be missing, or too many. */
const ONE_IN = 20;

/** The conversion from a lower rate by repeating the nearest frame that leaves copies where they were seen.
 *  @param frameNumbers  as stored, increasing; a pair that a gap parts is not looked at
 *  @param copies  indices of frames that are copies of the one before
 *  @returns null where the copies fit none, or are too few to tell */
export function regularPattern(
  frameNumbers: readonly number[],
  copies: readonly number[],
): CopyPattern | null {
  if (copies.length < LEAST_COPIES) return null;
  const seen = new Set(copies);
  const steps = frameNumbers.slice(1).map((number, k) => number - frameNumbers[k]);
  const step = steps.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const pairs = frameNumbers.flatMap((_, i) => (i > 0 && steps[i - 1] === step ? [i] : []));
  const place = (i: number) => Math.round((frameNumbers[i] - frameNumbers[0]) / step);
  for (const [source, clip] of CONVERTED_RATES) {
    if (source > clip || place(frameNumbers.length - 1) < LEAST_PERIODS * clip) continue;
    for (let phase = 0; phase < clip; phase++) {
      const isCopy = (k: number) =>
        Math.floor((k * source + phase) / clip) === Math.floor(((k - 1) * source + phase) / clip);
      const expected = pairs.filter((i) => isCopy(place(i)));
      const others = pairs.filter((i) => isCopy(place(i)) !== seen.has(i));
      if (expected.length >= LEAST_COPIES && others.length <= expected.length / ONE_IN)
        return { copies: clip - source, every: clip };
    }
  }
  return null;
}

import { CONVERTED_RATES } from "./converted-rates.js";
import { DIFFERENCES } from "./path-part.js";

/** A conversion that mixes neighbouring frames of its source. */
export interface BlendPattern {
  /** Frames of the source in the time of `every` frames of the clip. */
  readonly source: number;
  readonly every: number;
}

/** Steps, in frames of the source, in which it is tried where the first frame of the clip stands. */
const PHASE_STEP = 0.06;

/** A conversion, and what it does to a clip for each place tried. */
interface PlacedPattern<T> extends BlendPattern {
  readonly placed: readonly T[];
}

/** What every conversion between common rates does to a clip, for each place where the first frame of the clip may stand: worked out when it is first
 *  asked for, and kept.
 *  @param of  what one of them does, the first frame at `phase` / every */
export function ofEveryPattern<T>(
  of: (source: number, every: number, phase: number) => T,
): () => readonly PlacedPattern<T>[] {
  let patterns: readonly PlacedPattern<T>[] | null = null;
  return () => {
    patterns ??= CONVERTED_RATES.map(([source, every]) => {
      const parts = Math.ceil(1 / (every * PHASE_STEP));
      const placed = Array.from({ length: parts * every }, (_, part) => of(source, every, part / parts));
      return { source, every, placed };
    });
    return patterns;
  };
}

/** What the frames of the source count in differences of a clip whose frames k are blends of those about (k · source +
 *  phase) / every: one list for each k of `every`, of neighbouring frames of the source in order. */
export function sourceShares(
  kind: keyof typeof DIFFERENCES,
  source: number,
  every: number,
  phase: number,
): number[][] {
  return Array.from({ length: every }, (_, k) => {
    const places = DIFFERENCES[kind].map((_, n) => ((k + n - 1) * source + phase) / every);
    const first = Math.floor(places[0]);
    const shares = new Array<number>(Math.floor(places[2]) - first + 2).fill(0);
    DIFFERENCES[kind].forEach((coefficient, n) => {
      const whole = Math.floor(places[n]);
      const part = places[n] - whole;
      shares[whole - first] += coefficient * (1 - part);
      shares[whole - first + 1] += coefficient * part;
    });
    return shares;
  });
}

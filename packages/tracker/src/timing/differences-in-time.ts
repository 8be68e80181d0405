import type { StripedStreak } from "../streak/read-streak.js";
import { type DifferenceKind, type PathPart, partsOf } from "./path-part.js";

/** Share of the parts that a front, its smear and its tail may leave untouched, and still noise is what is seen. */
const UNTOUCHED = 0.5;

/** Mean squares of differences between neighbouring frames, as of single pixels: of a mean over n pixels, n times its
 *  square. */
export interface DifferencesInTime {
  /** What noise leaves: the mean over the quieter half of the path, of each part what a level and a share of the
   *  brightness (flicker) leave. */
  readonly typical: Float64Array;
  /** The part of the path that differs most, nothing taken out. */
  readonly largest: Float64Array;
}

/** Differences in time of a streak's strips, all kinds of them.
 *  @returns of each kind, shape (frames,), NaN where a neighbour is missing */
export function differencesInTime({
  strips,
  stripCounts,
  shape,
}: Pick<StripedStreak, "strips" | "stripCounts" | "shape">): Readonly<
  Record<DifferenceKind, DifferencesInTime>
> {
  const [frames, positions] = shape;
  const parts = partsOf(strips, stripCounts, shape).filter(({ count }) => count > 0);
  const ofKind = (kind: DifferenceKind) => new OfKind(kind, frames, parts);
  const first = ofKind("first");
  const second = ofKind("second");
  const across = ofKind("across");
  for (let i = 1; i < frames && parts.length > 0; i++) {
    const isLast = i === frames - 1;
    for (const part of parts) part.look(i, positions, isLast);
    first.add(i);
    if (isLast) break;
    second.add(i);
    across.add(i);
  }
  return { first, second, across };
}

/** Differences of one kind, frame by frame. */
class OfKind {
  readonly typical: Float64Array;
  readonly largest: Float64Array;
  private readonly left: Float64Array;

  constructor(
    readonly kind: DifferenceKind,
    frames: number,
    private readonly parts: readonly PathPart[],
  ) {
    this.typical = new Float64Array(frames).fill(Number.NaN);
    this.largest = new Float64Array(frames).fill(Number.NaN);
    this.left = new Float64Array(parts.length);
  }

  /** Takes up what the parts show of a frame. */
  add(frame: number): void {
    const { kind, parts, left } = this;
    let most = 0;
    for (let n = 0; n < parts.length; n++) {
      left[n] = parts[n].aboutBrightness(kind);
      most = Math.max(most, parts[n].meanSquare(kind));
    }
    left.sort();
    const untouched = Math.max(1, Math.floor(UNTOUCHED * parts.length));
    let sum = 0;
    for (let n = 0; n < untouched; n++) sum += left[n];
    this.typical[frame] = sum / untouched;
    this.largest[frame] = most;
  }
}

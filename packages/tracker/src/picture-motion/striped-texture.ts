import { addScaled } from "./add-scaled.js";
import { meanLine } from "./mean-line.js";
import type { SplineLine } from "./spline-line.js";

/** A picture in strips side by side, each a line along the path. */
export interface StripedPicture {
  /** Shape (strips,); null where a strip shows nothing. */
  readonly lines: readonly (SplineLine | null)[];
  /** Of the first line, in strips from the first of a frame. */
  readonly firstStrip: number;
}

/** Shift along the path, px, and across it, in strips. */
export type StripedShift = readonly [along: number, across: number];

/** Strips and pixels that the texture is kept beyond those of a frame. */
const STRIPS_BEYOND = 6;
const PIXELS_BEYOND = 8;

/** Mean of striped pictures each moved back by its shift. */
export class StripedTexture {
  private readonly sums: Float64Array[];
  private readonly counts: Float64Array[];

  constructor(
    strips: number,
    private readonly positions: number,
  ) {
    const blank = () => new Float64Array(positions + 2 * PIXELS_BEYOND);
    this.sums = Array.from({ length: strips + 2 * STRIPS_BEYOND }, blank);
    this.counts = this.sums.map(blank);
  }

  /** @param light  brightness of the picture = gain · texture + offset + ramp · (place − middle) */
  add(
    picture: StripedPicture,
    [from, to]: readonly [number, number],
    [along, across]: StripedShift,
    light: { readonly gain: number; readonly offset: number; readonly ramp: number },
  ): void {
    const middle = (this.positions - 1) / 2;
    const first = Math.max(-PIXELS_BEYOND, Math.ceil(from - along));
    const last = Math.min(this.positions + PIXELS_BEYOND - 1, Math.floor(to - 1 - along));
    if (last < first) return;
    const values = new Float64Array(last - first + 1);
    const total = new Float64Array(values.length);
    this.sums.forEach((sum, m) => {
      const parts = between(picture, m - STRIPS_BEYOND + across)?.filter(({ weight }) => weight !== 0);
      if (!parts) return;
      const count = this.counts[m];
      total.fill(0);
      for (const { line, weight } of parts) {
        line.fill(first + along, 1, values);
        addScaled(total, 0, values, weight);
      }
      addInLight(sum, count, first + PIXELS_BEYOND, total, first + along - middle, light);
    });
  }

  picture(): StripedPicture {
    const lines = this.sums.map((sum, m) => meanLine(sum, this.counts[m], PIXELS_BEYOND));
    return { lines, firstStrip: -STRIPS_BEYOND };
  }
}

/** Adds a line in an even light, and counts it.
 *  @param from  place in the sums of the first value
 *  @param offMiddle  of the first value from the middle of the picture */
function addInLight(
  sums: Float64Array,
  counts: Float64Array,
  from: number,
  values: Float64Array,
  offMiddle: number,
  { gain, offset, ramp }: { readonly gain: number; readonly offset: number; readonly ramp: number },
): void {
  for (let n = 0, at = from; n < values.length; n++, at++) {
    sums[at] += (values[n] - offset - ramp * (offMiddle + n)) / gain;
    counts[at]++;
  }
}

/** Lines whose weighted sum is the picture between its strips, by cubic convolution; straight on at the outer strips.
 *  @param strip  counted as `firstStrip`
 *  @returns null beyond the outer strips; `slope` is the weight for the derivative by `strip`
 *  @see Keys, IEEE Trans. Acoust. Speech Signal Process. 29 (1981) 1153, a = −1/2 (citation from memory) */
export function between(
  { lines, firstStrip }: StripedPicture,
  strip: number,
): { readonly line: SplineLine; readonly weight: number; readonly slope: number }[] | null {
  const at = strip - firstStrip;
  let low = Math.floor(at + 1e-9);
  if (!lines[low]) return null;
  if (!lines[low + 1]) {
    if (at - low > 1e-9 || !lines[low - 1]) return null;
    low--;
  }
  const t = at - low;
  const weights = [
    0.5 * (-t + 2 * t ** 2 - t ** 3),
    0.5 * (2 - 5 * t ** 2 + 3 * t ** 3),
    0.5 * (t + 4 * t ** 2 - 3 * t ** 3),
    0.5 * (-(t ** 2) + t ** 3),
  ];
  const slopes = [
    0.5 * (-1 + 4 * t - 3 * t ** 2),
    0.5 * (-10 * t + 9 * t ** 2),
    0.5 * (1 + 8 * t - 9 * t ** 2),
    0.5 * (-2 * t + 3 * t ** 2),
  ];
  for (const [beyond, near, far] of [
    [0, 1, 2],
    [3, 2, 1],
  ]) {
    if (lines[low - 1 + beyond]) continue;
    for (const of of [weights, slopes]) {
      of[near] += 2 * of[beyond];
      of[far] -= of[beyond];
      of[beyond] = 0;
    }
  }
  return weights.flatMap((weight, j) => {
    const line = lines[low - 1 + j];
    return line ? [{ line, weight, slope: slopes[j] }] : [];
  });
}

import { meanLine } from "./mean-line.js";
import type { RegisteredShift } from "./register-shift.js";
import type { SplineLine } from "./spline-line.js";

/** The texture is kept as far beyond the path, px; a picture that moves further is not followed. */
export const BEYOND = 32;

/** Mean of lines each moved back by its shift, reaching beyond the path on both sides. */
export class MeanTexture {
  private readonly sum: Float64Array;
  private readonly count: Float64Array;

  constructor(positions: number) {
    this.sum = new Float64Array(positions + 2 * BEYOND);
    this.count = new Float64Array(positions + 2 * BEYOND);
  }

  add(
    spline: SplineLine,
    line: Float64Array,
    [from, to]: readonly [number, number],
    shift: number,
    registered: RegisteredShift | null,
  ): void {
    const { gain, offset, ramp } = registered?.light ?? { gain: 1, offset: 0, ramp: 0 };
    const middle = (line.length - 1) / 2;
    const firstPlace = Math.max(-BEYOND, Math.ceil(from - shift));
    const lastPlace = Math.min(line.length + BEYOND - 1, Math.floor(to - 1 - shift));
    if (lastPlace < firstPlace) return;
    const values = new Float64Array(lastPlace - firstPlace + 1);
    spline.fill(firstPlace + shift, 1, values);
    for (let q = firstPlace, n = 0; q <= lastPlace; q++, n++) {
      const p = q + shift;
      if (registered) {
        const near = Math.round(p) - registered.from;
        if (registered.weight[near] === 0) continue;
      }
      this.sum[q + BEYOND] += (values[n] - offset - ramp * (p - middle)) / gain;
      this.count[q + BEYOND]++;
    }
  }

  /** Frames averaged at place q. */
  framesAt(q: number): number {
    return this.count[q + BEYOND] ?? 0;
  }

  spline(): SplineLine | null {
    return meanLine(this.sum, this.count, BEYOND);
  }
}

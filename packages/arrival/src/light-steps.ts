import { median } from "@frontpace/fit";

/** Cells looked at in a frame, at most. */
const MOST_CELLS = 4096;
/** A step of the light counts from this many standard uncertainties on. */
const SIGNIFICANT = 5;
/** Where the ratios scatter by more than this the picture is too dark or too noisy to tell. */
const WIDEST = 0.5;
/** The light flickers where its steps are this many times what noise makes of them, root mean square, and at least so large. */
const FLICKERS = 2.5;
const SHALLOWEST = 1e-3;
/** Fewest cells that tell a step. */
const FEWEST_RATIOS = 16;

/** Brightness of the whole picture from frame to frame: the median ratio over the cells, for from one frame to the next
 *  a front crosses few of them. */
export class LightSteps {
  private readonly previous: Float64Array;
  private readonly earlier: Float64Array;
  private readonly stride: number;
  private readonly roughness: number[] = [];
  private seenSquares = 0;
  private expectedSquares = 0;
  private frames = 0;
  /** Logarithm of the light, relative to the first frame. */
  private level = 0;

  constructor(cells: number) {
    this.stride = Math.max(1, Math.floor(cells / MOST_CELLS));
    const kept = Math.ceil(cells / this.stride);
    this.previous = new Float64Array(kept);
    this.earlier = new Float64Array(kept);
  }

  /** @returns the light in this frame, relative to the first */
  push(means: Float64Array): number {
    const { previous, earlier, stride } = this;
    if (this.frames > 0) this.step(means);
    const light = Math.exp(this.level);
    if (this.frames > 1) {
      const rough = previous.map((value, k) => Math.abs(earlier[k] - 2 * value + means[k * stride] / light));
      this.roughness.push(median(rough) / (0.6745 * Math.sqrt(6)));
    }
    earlier.set(previous);
    for (let k = 0; k < previous.length; k++) previous[k] = means[k * stride] / light;
    this.frames++;
    return light;
  }

  private step(means: Float64Array): void {
    const { previous, stride } = this;
    const before = Math.exp(this.level);
    const darkest = usualBrightness(previous) / 4;
    const ratios: number[] = [];
    previous.forEach((value, k) => {
      const next = means[k * stride];
      if (value > darkest && next > 0) ratios.push(Math.log(next / (value * before)));
    });
    if (ratios.length < FEWEST_RATIOS) return;
    const { middle, spread } = middleOf(ratios);
    // What the front crosses lies to one side and would draw the median with it.
    const quiet = ratios.filter((ratio) => Math.abs(ratio - middle) <= 3 * spread);
    const step = quiet.length < FEWEST_RATIOS ? middle : median(quiet);
    const expected = (1.2533 * spread) / Math.sqrt(ratios.length);
    if (!(spread < WIDEST)) return;
    this.seenSquares += step * step;
    this.expectedSquares += expected * expected;
    if (Math.abs(step) > SIGNIFICANT * expected + SHALLOWEST) this.level += step;
  }

  /** Whether the light varies more than the noise explains. */
  get flickers(): boolean {
    const { seenSquares, expectedSquares, frames } = this;
    const seen = Math.sqrt(seenSquares / Math.max(1, frames - 1));
    return seen > SHALLOWEST && seenSquares > FLICKERS ** 2 * expectedSquares;
  }

  /** Standard deviation of the noise of a cell in one frame, from second differences in time, medians of medians; NaN of
   *  fewer than three frames. */
  get noise(): number {
    return median(this.roughness);
  }
}

/** The brightness of which half of the light is brighter: a flash or a glint that is far brighter than all else, and small, is not the light. */
function usualBrightness(values: Float64Array): number {
  const sorted = values.toSorted();
  const half = sorted.reduce((sum, value) => sum + Math.max(0, value), 0) / 2;
  let sum = 0;
  for (let k = sorted.length - 1; k >= 0; k--) {
    sum += Math.max(0, sorted[k]);
    if (sum >= half) return sorted[k];
  }
  return 0;
}

function middleOf(values: readonly number[]): { middle: number; spread: number } {
  const middle = median(values);
  return { middle, spread: 1.4826 * median(values.map((value) => Math.abs(value - middle))) };
}

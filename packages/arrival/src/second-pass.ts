import { type FrameTimes, frameTimes } from "./frame-times.js";

/** A time is believed where its change is this many times its standard uncertainty. */
const SIGNIFICANT = 4;
/** Least share of the frames of a level that must be there. */
const LEAST_LEVEL = 0.5;
/** Least share of the cells, quiet in two frames that follow each other, that tell the light. */
const LEAST_QUIET = 0.02;

export interface SecondPassOptions {
  /** About when each cell changes, counted in frame numbers; NaN: not at all. */
  readonly about: Float64Array;
  readonly kind: "stays" | "passes";
  readonly levelFrames: number;
  readonly halfGapFrames: number;
  /** Of a cell in one frame. */
  readonly noise: number;
  readonly flickers: boolean;
}

/** The time of every cell as an area in a fixed window about a time that its own noise did not choose: one that is chosen by
 *  the noise is biased. */
export class SecondPass {
  private readonly frames: FrameTimes;
  private readonly gapStart: Int32Array;
  private readonly gapEnd: Int32Array;
  private readonly before: Float64Array;
  private readonly area: Float64Array;
  private readonly moment: Float64Array;
  private readonly after: Float64Array;
  private readonly jump: Float64Array;
  private readonly previous: Float64Array;
  private light = 1;
  private index = 0;

  constructor(
    numbers: readonly number[],
    private readonly options: SecondPassOptions,
  ) {
    const { about, halfGapFrames } = options;
    this.frames = frameTimes(numbers);
    const array = () => new Float64Array(about.length);
    this.before = array();
    this.area = array();
    this.moment = array();
    this.after = array();
    this.jump = array();
    this.previous = array();
    this.gapStart = new Int32Array(about.length).fill(-1);
    this.gapEnd = new Int32Array(about.length).fill(-1);
    const { times } = this.frames;
    for (let i = 0; i < about.length; i++) {
      if (Number.isNaN(about[i])) continue;
      this.gapStart[i] = countBelow(times, about[i] - halfGapFrames);
      this.gapEnd[i] = countBelow(times, about[i] + halfGapFrames);
    }
  }

  push(means: Float64Array): void {
    const { options, index, previous } = this;
    const { about } = options;
    const { times, weights } = this.frames;
    if (options.flickers && index > 0) this.light *= this.lightStep(means);
    for (let i = 0; i < means.length; i++) {
      const value = means[i] / this.light;
      const start = this.gapStart[i];
      const end = this.gapEnd[i];
      if (start >= 0 && index >= start - options.levelFrames && index < end + options.levelFrames) {
        if (index < start) this.before[i] += value;
        else if (index >= end) this.after[i] += value;
        else {
          this.area[i] += weights[index] * value;
          this.moment[i] += weights[index] * (times[index] - about[i]) * value;
        }
        const jump = Math.abs(value - previous[i]);
        if (index >= start && index <= end && jump > this.jump[i]) this.jump[i] = jump;
      }
      previous[i] = value;
    }
    this.index++;
  }

  /** Ratio of the light to that in the frame before, from the cells that nothing crosses in either. */
  private lightStep(means: Float64Array): number {
    const { index, previous, gapStart, gapEnd } = this;
    let cells = 0;
    let sum = 0;
    let earlier = 0;
    for (let i = 0; i < means.length; i++) {
      if (gapStart[i] >= 0 && index >= gapStart[i] && index <= gapEnd[i]) continue;
      cells++;
      sum += means[i];
      earlier += previous[i] * this.light;
    }
    return cells >= LEAST_QUIET * means.length && sum > 0 && earlier > 0 ? sum / earlier : 1;
  }

  /** Arrival, standard uncertainty and change of every cell, NaN where no time is believed. */
  finish() {
    const { about } = this.options;
    const cells = about.length;
    const arrival = new Float64Array(cells).fill(Number.NaN);
    const standardUncertainty = new Float64Array(cells).fill(Number.NaN);
    const change = new Float64Array(cells).fill(Number.NaN);
    for (let i = 0; i < cells; i++) {
      const timed = this.timeOf(i);
      if (!timed) continue;
      arrival[i] = timed.time;
      standardUncertainty[i] = timed.uncertainty;
      change[i] = timed.change;
    }
    return { arrival, standardUncertainty, change };
  }

  private timeOf(i: number): { time: number; uncertainty: number; change: number } | null {
    const { about, kind, levelFrames, noise, halfGapFrames } = this.options;
    const { times, weights, ends } = this.frames;
    const start = this.gapStart[i];
    const end = this.gapEnd[i];
    const framesBefore = Math.min(start, levelFrames);
    const framesAfter = Math.min(times.length - end, levelFrames);
    const least = LEAST_LEVEL * levelFrames;
    if (start < 0 || end - start < 2 || framesBefore < least || framesAfter < least) return null;
    const before = this.before[i] / framesBefore;
    const after = this.after[i] / framesAfter;
    let length = 0;
    let squares = 0;
    let lever = 0;
    let leverSquares = 0;
    let widest = 0;
    for (let k = start; k < end; k++) {
      const away = times[k] - about[i];
      length += weights[k];
      squares += weights[k] ** 2;
      lever += weights[k] * away;
      leverSquares += (weights[k] * away) ** 2;
      widest = Math.max(widest, weights[k]);
    }
    if (kind === "passes") {
      const base = (before + after) / 2;
      const change = this.area[i] - base * length;
      const ofBase = noise * noise * (0.25 / framesBefore + 0.25 / framesAfter);
      if (!(Math.abs(change) > SIGNIFICANT * Math.sqrt(noise * noise * squares + ofBase * length ** 2)))
        return null;
      const away = (this.moment[i] - base * lever) / change;
      if (!(Math.abs(away) < halfGapFrames)) return null;
      const variance = (noise * noise * leverSquares + ofBase * lever ** 2) / change ** 2;
      return { time: about[i] + away, uncertainty: Math.sqrt(variance + widest ** 2 / 12), change };
    }
    const change = after - before;
    const uncertaintyOfChange = noise * Math.sqrt(1 / framesBefore + 1 / framesAfter);
    if (!(Math.abs(change) > SIGNIFICANT * uncertaintyOfChange)) return null;
    const filled = (this.area[i] - before * length) / change;
    const time = ends[end - 1] - filled;
    if (!(Math.abs(time - about[i]) < halfGapFrames)) return null;
    const variance =
      (noise / change) ** 2 * (squares + (length - filled) ** 2 / framesBefore + filled ** 2 / framesAfter);
    const spacing = widest * spacingError(this.jump[i] / Math.abs(change));
    return { time, uncertainty: Math.sqrt(variance + spacing ** 2), change };
  }
}

/** Standard deviation of a time that frames one apart tell of an edge of which this share falls between two of them: an
 *  edge of a normal distribution in time, summed up instead of integrated, errs by the first term of Poisson's sum. */
function spacingError(share: number): number {
  if (share >= 0.98) return 1 / Math.sqrt(12);
  if (share <= 0.5) return 0;
  // share = erf(1/(2 sqrt2 s)), by the logistic approximation of the normal distribution (1.702; from memory).
  const z = Math.log((1 + share) / (1 - share)) / 1.702;
  const deviation = 1 / (2 * z);
  return Math.min(1 / Math.sqrt(12), Math.exp(-2 * Math.PI ** 2 * deviation ** 2) / (Math.PI * Math.SQRT2));
}

/** How many of the increasing values lie below a limit. */
function countBelow(values: Float64Array, limit: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}

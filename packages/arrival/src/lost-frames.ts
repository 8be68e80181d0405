import { median } from "@frontpace/fit";

/** Cells looked at in a frame, at most. */
const MOST_CELLS = 4096;
/** A frame departs where it differs from the one before it this many times more than frames usually do, and by this share of its brightness. */
const DEPARTS = 8;
const LEAST_SHARE = 0.02;
/** Twice or half as bright is no flicker any more. */
const MOST_FLICKER = 2;
/** Fewest frames by which the usual difference is known. */
const FEWEST = 3;
/** Longest run that is left out: so many frames, and this share of all. */
const MOST_IN_A_ROW = 12;
const MOST_OF_ALL = 1 / 8;
/** Share of the frames that are left out at most. */
const MOST_LEFT_OUT = 1 / 4;

/** A frame that was not left out. */
export interface KeptFrame {
  readonly index: number;
  /** Means of its cells, shape (cells,); only until the next frame comes. */
  readonly means: Float64Array;
}

/** Leaves out frames that have nothing to do with those before and after them: black or white ones where the signal was lost, a flash, another view.
 *  From one frame to the next most of the picture is another, and within a few frames it is the earlier again; a front crosses a part of
 *  the picture from one frame to the next, and a lamp that is switched leaves the picture in another light. Frames in doubt are held back, a dozen at most. */
export class LostFrames {
  private readonly held: KeptFrame[] = [];
  private readonly usual: number[] = [];
  private readonly stride: number;
  private readonly longest: number;
  private readonly last: Float64Array;
  private index = 0;
  private leftOut = 0;

  /** @param frames  how many will come */
  constructor(
    cells: number,
    private readonly frames: number,
  ) {
    this.stride = Math.max(1, Math.floor(cells / MOST_CELLS));
    this.last = new Float64Array(Math.ceil(cells / this.stride));
    this.longest = Math.min(MOST_IN_A_ROW, Math.floor(frames * MOST_OF_ALL));
  }

  /** @returns the frames that are known to belong to the take by now, in their order */
  push(means: Float64Array): KeptFrame[] {
    const { held, usual, longest, index } = this;
    this.index++;
    const difference = index === 0 ? 0 : this.differenceOf(means);
    const departs = usual.length >= FEWEST && difference > this.limit();
    if (!departs) {
      this.leftOut += held.length;
      held.length = 0;
      if (index > 0) usual.push(difference);
      this.remember(means);
      return [{ index, means }];
    }
    const { leftOut, frames } = this;
    if (held.length < longest && leftOut + held.length < MOST_LEFT_OUT * frames) {
      held.push({ index, means: means.slice() });
      return [];
    }
    this.remember(means);
    return [...held.splice(0), { index, means }];
  }

  /** @returns the frames that were held back when the take ended */
  finish(): KeptFrame[] {
    return this.held.splice(0);
  }

  private limit(): number {
    const { last, usual } = this;
    const brightness = median(last.map(Math.abs));
    return Math.max(DEPARTS * median(usual), LEAST_SHARE * brightness);
  }

  private remember(means: Float64Array): void {
    const { last, stride } = this;
    for (let k = 0; k < last.length; k++) last[k] = means[k * stride];
  }

  /** Median difference from the last frame that was kept, what is in proportion to its brightness taken out. */
  private differenceOf(means: Float64Array): number {
    const { last, stride } = this;
    const brightest = last.reduce((most, value) => Math.max(most, value), 0);
    const ratios: number[] = [];
    last.forEach((value, k) => {
      if (value > brightest / 4) ratios.push(means[k * stride] / value);
    });
    const ratio = ratios.length > 0 ? median(ratios) : 1;
    const light = ratio > 1 / MOST_FLICKER && ratio < MOST_FLICKER ? ratio : 1;
    return median(last.map((value, k) => Math.abs(means[k * stride] - light * value)));
  }
}

/** How many bins of frames make a level before or after, and the gap between them. */
export interface Window {
  readonly level: number;
  readonly gap: number;
}

/** Greatest change so far of every cell, of one kind and sense. */
export interface Greatest {
  /** Size of the change, unit of the samples. */
  readonly size: Float64Array;
  /** When, counted in frames read, from the first. */
  readonly index: Float64Array;
}

/** Of all gaps between a run of frames before and one after: the one with the greatest change of level, for every cell,
 *  brighter and darker, changes that stay and changes that pass. A ring of as many pictures as the window has bins, and running sums. */
export class ChangeRing {
  readonly stays: { readonly bright: Greatest; readonly dark: Greatest };
  readonly passes: { readonly bright: Greatest; readonly dark: Greatest };
  private readonly ring: Float64Array[];
  private readonly before: Float64Array;
  private readonly core: Float64Array;
  private readonly after: Float64Array;
  private bins = 0;
  private inBin = 0;

  /** @param framesPerBin  frames that are averaged into one picture of the ring */
  constructor(
    readonly cells: number,
    readonly framesPerBin: number,
    readonly window: Window,
  ) {
    const array = () => new Float64Array(cells);
    const greatest = () => ({ size: array(), index: array().fill(Number.NaN) });
    this.stays = { bright: greatest(), dark: greatest() };
    this.passes = { bright: greatest(), dark: greatest() };
    this.ring = Array.from({ length: 2 * window.level + window.gap + 1 }, array);
    this.before = array();
    this.core = array();
    this.after = array();
  }

  push(means: Float64Array): void {
    const { framesPerBin, cells } = this;
    const newest = this.ring[this.bins % this.ring.length];
    if (this.inBin === 0) newest.fill(0);
    for (let i = 0; i < cells; i++) newest[i] += means[i] / framesPerBin;
    if (++this.inBin < framesPerBin) return;
    this.inBin = 0;
    this.bins++;
    this.slide();
    if (this.bins >= this.ring.length - 1) this.compare();
  }

  /** The picture of so many bins ago, 0: the newest. */
  private past(ago: number): Float64Array | null {
    if (ago >= this.bins) return null;
    return this.ring[(this.bins - 1 - ago) % this.ring.length];
  }

  /** The middle of the gap, without a bin at either end where there is room. */
  private get coreBins(): { first: number; count: number } {
    const { level, gap } = this.window;
    return gap > 3 ? { first: level + 1, count: gap - 2 } : { first: level, count: gap };
  }

  private slide(): void {
    const { level, gap } = this.window;
    const { first, count } = this.coreBins;
    move(this.after, this.past(0), this.past(level));
    move(this.core, this.past(first), this.past(first + count));
    move(this.before, this.past(level + gap), this.past(2 * level + gap));
  }

  private compare(): void {
    const { before, core, after, cells } = this;
    const { level } = this.window;
    const { count } = this.coreBins;
    const { bright: up, dark: down } = this.stays;
    const { bright: flash, dark: shadow } = this.passes;
    for (let i = 0; i < cells; i++) {
      const step = (after[i] - before[i]) / level;
      if (step > up.size[i]) this.note(up, i, step, true);
      else if (-step > down.size[i]) this.note(down, i, -step, true);
      const pulse = core[i] / count - (after[i] + before[i]) / (2 * level);
      if (pulse > flash.size[i]) this.note(flash, i, pulse, false);
      else if (-pulse > shadow.size[i]) this.note(shadow, i, -pulse, false);
    }
  }

  private note(greatest: Greatest, i: number, size: number, stays: boolean): void {
    greatest.size[i] = size;
    greatest.index[i] = this.timeOf(i, stays);
  }

  /** A change that stays: end of the gap less the area that it has filled; one that passes: centre of gravity. */
  private timeOf(i: number, stays: boolean): number {
    const { level, gap } = this.window;
    const { framesPerBin, bins } = this;
    const before = this.before[i] / level;
    const after = this.after[i] / level;
    const base = stays ? before : (before + after) / 2;
    let area = 0;
    let moment = 0;
    for (let k = 0; k < gap; k++) {
      const value = this.past(level + k)![i] - base;
      area += value;
      moment += value * (k + 0.5);
    }
    const ago = Math.min(gap, Math.max(0, stays ? area / (after - before) : moment / area));
    return (bins - level - ago) * framesPerBin - 0.5;
  }
}

function move(sum: Float64Array, enters: Float64Array | null, leaves: Float64Array | null): void {
  if (!enters) return;
  if (leaves) for (let i = 0; i < sum.length; i++) sum[i] += enters[i] - leaves[i];
  else for (let i = 0; i < sum.length; i++) sum[i] += enters[i];
}

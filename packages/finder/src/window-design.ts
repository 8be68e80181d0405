/** One question put to a series of samples: how far before and after stand apart about a gap (`step`), or how far the
 *  samples in the gap stand from the line through both (`pulse`). */
export interface WindowDesign {
  readonly kind: "step" | "pulse";
  /** Samples in the gap. */
  readonly gap: number;
  /** For every place i of the gap's first sample: sample ranges [b0, i), [i + gap, a1), and weights of the prefix sums of
   *  x and of t x over them, and over the gap; in units of one sample's noise. */
  readonly places: readonly {
    readonly i: number;
    readonly b0: number;
    readonly a1: number;
    readonly before: readonly [number, number];
    readonly after: readonly [number, number];
    readonly inGap: number;
    /** Where the end of the series cuts one side short, or samples lie closer than usual: what a size of 1 is in noise
     *  levels. What the same question is answered elsewhere says little there, and the change is held against how much the
     *  value varies at any time. Otherwise 0. */
    readonly spread: number;
  }[];
}

/** Fewest samples on either side. */
export const FEWEST_BESIDE = 3;
/** Fewer samples give a mean, more a line. */
const FEWEST_FOR_LINE = 6;
/** Samples this part as far apart as usual are crowded. */
const CROWDED = 0.95;

/** Gaps of 0, 1, 2, 4, ... samples, up to a thirty-second of the series or 4: what takes longer in one place counts as drift.
 *  @param times  of the samples, increasing */
export function windowDesigns(times: Float64Array): WindowDesign[] {
  const count = times.length;
  const designs: WindowDesign[] = [];
  for (let gap = 0; gap <= Math.max(4, count / 32); gap = gap ? 2 * gap : 1) {
    const beside = Math.max(FEWEST_BESIDE, Math.min(Math.max(8, 2 * gap), Math.floor(count / 6)));
    const steps: WindowDesign["places"][number][] = [];
    const pulses: WindowDesign["places"][number][] = [];
    for (let i = FEWEST_BESIDE; i + gap + FEWEST_BESIDE <= count; i++) {
      const b0 = Math.max(0, i - beside);
      const a1 = Math.min(count, i + gap + beside);
      const middle = (times[i - 1] + times[i + gap]) / 2;
      const b = momentsOf(times, b0, i);
      const a = momentsOf(times, i + gap, a1);
      const left = weightsAt(b, middle);
      const right = weightsAt(a, middle);
      const few =
        Math.min(i - b0, a1 - i - gap) < beside || times[a1 - 1] - times[b0] < CROWDED * (a1 - 1 - b0);
      const scale = 1 / Math.sqrt(left.variance + right.variance);
      steps.push({
        i,
        b0,
        a1,
        before: [-scale * left.ofSum, -scale * left.ofProducts],
        after: [scale * right.ofSum, scale * right.ofProducts],
        inGap: 0,
        spread: few ? 1 / scale : 0,
      });
      if (gap === 0) continue;
      const gapTime = momentsOf(times, i, i + gap).mean;
      const line = weightsAt(joined(a, b), gapTime);
      const pulseScale = 1 / Math.sqrt(line.variance + 1 / gap);
      const both = [-pulseScale * line.ofSum, -pulseScale * line.ofProducts] as const;
      pulses.push({
        i,
        b0,
        a1,
        before: both,
        after: both,
        inGap: pulseScale / gap,
        spread: few ? 1 / pulseScale : 0,
      });
    }
    designs.push({ kind: "step", gap, places: steps });
    if (gap) designs.push({ kind: "pulse", gap, places: pulses });
  }
  return designs;
}

interface Moments {
  readonly count: number;
  readonly mean: number;
  readonly spread: number;
}

function momentsOf(times: Float64Array, start: number, end: number): Moments {
  let sum = 0;
  for (let j = start; j < end; j++) sum += times[j];
  const mean = sum / (end - start);
  let spread = 0;
  for (let j = start; j < end; j++) spread += (times[j] - mean) ** 2;
  return { count: end - start, mean, spread };
}

function joined(a: Moments, b: Moments): Moments {
  const count = a.count + b.count;
  const mean = (a.count * a.mean + b.count * b.mean) / count;
  const spread = a.spread + b.spread + a.count * (a.mean - mean) ** 2 + b.count * (b.mean - mean) ** 2;
  return { count, mean, spread };
}

/** Value at a time of the mean, or of the line, of samples: weights of their sum and of the sum of time times sample. */
function weightsAt({ count, mean, spread }: Moments, time: number) {
  if (count < FEWEST_FOR_LINE) return { ofSum: 1 / count, ofProducts: 0, variance: 1 / count };
  const lever = (time - mean) / spread;
  return {
    ofSum: 1 / count - lever * mean,
    ofProducts: lever,
    variance: 1 / count + lever * lever * spread,
  };
}

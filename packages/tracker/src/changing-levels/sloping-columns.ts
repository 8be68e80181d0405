import { type NormalSample, sampleNormal } from "../model/normal-distribution.js";

/** What levels do that have a slope in time before the front and another one behind it: the time from the passage, and the
 *  integral of the front's own rise.
 *  @param passage  when the front passes, in frames
 *  @param rise  standard deviation of its rise, frames
 *  @returns two columns of shape (frames,) */
export function slopingColumns(passage: number, rise: number, frames: number): readonly Float64Array[] {
  return [
    Float64Array.from({ length: frames }, (_, i) => i - passage),
    Float64Array.from({ length: frames }, (_, i) => ramp(i - passage, rise)),
  ];
}

const sample: NormalSample = { density: 0, distribution: 0 };

/** The integral of a normal distribution of standard deviation `rise`. */
function ramp(time: number, rise: number): number {
  const z = time / rise;
  sampleNormal(z, sample);
  return rise * (z * sample.distribution + sample.density);
}

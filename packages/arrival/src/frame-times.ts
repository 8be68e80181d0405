/** Times of frames that are not evenly spaced, counted in frame numbers. */
export interface FrameTimes {
  readonly times: Float64Array;
  /** How much of the time each frame stands for: to the middles between it and its neighbours. */
  readonly weights: Float64Array;
  /** The end of that time. */
  readonly ends: Float64Array;
}

export function frameTimes(numbers: readonly number[]): FrameTimes {
  const count = numbers.length;
  const times = Float64Array.from(numbers);
  const ends = times.map((time, k) => (k + 1 < count ? (time + times[k + 1]) / 2 : time + 0.5));
  const weights = ends.map((end, k) => end - (k > 0 ? ends[k - 1] : times[0] - 0.5));
  return { times, weights, ends };
}

/** Time at a place between frames, counted by index. */
export function timeAtIndex({ times }: FrameTimes, index: number): number {
  const at = Math.min(times.length - 2, Math.max(0, Math.floor(index)));
  return times[at] + (index - at) * (times[at + 1] - times[at]);
}

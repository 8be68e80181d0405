/** Whether the squares seen are six standard deviations more than noise makes them (common practice, no source). */
export function isMoreThanNoise({
  seen,
  expected,
  frames,
}: {
  readonly seen: number;
  readonly expected: number;
  readonly frames: number;
}): boolean {
  return seen > expected * (1 + 6 * Math.sqrt(2 / frames));
}

/** Frames of the source for each frame of the clip: rates between which clips are commonly converted, and any slowing
 *  down by a whole number (common practice, no source). */
export const CONVERTED_RATES: readonly (readonly [source: number, clip: number])[] = [
  [1, 2],
  [1, 3],
  [1, 4],
  [1, 5],
  [1, 6],
  [1, 8],
  [1, 10],
  [1, 12],
  [2, 3],
  [2, 5],
  [3, 4],
  [3, 5],
  [4, 5],
  [5, 6],
  [5, 12],
  [5, 8],
  [24, 25],
  [25, 24],
  [6, 5],
  [5, 4],
];

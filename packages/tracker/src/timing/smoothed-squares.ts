/** Sum of squares of what changes along a path, smoothed: where a front that is sharper than a pixel stands between two of them changes the squares, in a
 *  pattern of its own where it runs a whole number of pixels in a few frames; what tells these places apart are waves of about two pixels, which go.
 *  @param changeAt  of each of the positions, in their order */
export function smoothedSquares(positions: number, changeAt: (position: number) => number): number {
  let sum = 0;
  let [a, b, c, d] = [0, 0, 0, 0];
  for (let p = 0; p < positions; p++) {
    const e = changeAt(p);
    const smooth = (a + 4 * b + 6 * c + 4 * d + e) / 16;
    sum += smooth * smooth;
    [a, b, c, d] = [b, c, d, e];
  }
  return sum;
}

/** Lines along a path through positions whose numbers are those of frames, though each row of a frame is taken later than the one
 *  above it. A front that runs down the rows at v px a frame is seen to have moved on by the time its row is read, and one that runs up them
 *  less: p = v (n + ρ s p) gives the slope v' = v/(1 − v ρ s) against the frame number n.
 *  @param slopePerFrame  v', against frame numbers, px a frame
 *  @param rowTimeFrames  ρ, time from row to row in frame intervals, >= 0
 *  @param rowsPerPixel  s, rows by which the path goes down for each px along it, −1 to 1
 *  @returns v = v'/(1 + v' ρ s), and dv/dv' = (v/v')² for its uncertainty
 *  @throws RangeError on values outside these, and where the front outruns the rows and is seen to run the other way */
export function withRowTime(
  slopePerFrame: number,
  rowTimeFrames: number,
  rowsPerPixel: number,
): { readonly slope: number; readonly derivative: number } {
  if (!(rowTimeFrames >= 0 && rowTimeFrames < Number.POSITIVE_INFINITY))
    throw new RangeError(`rowTimeFrames must be finite and >= 0, got ${rowTimeFrames}`);
  if (!(Math.abs(rowsPerPixel) <= 1))
    throw new RangeError(`rowsPerPixel must be from -1 to 1, got ${rowsPerPixel}`);
  const stretch = 1 + slopePerFrame * rowTimeFrames * rowsPerPixel;
  if (!(stretch > 0))
    throw new RangeError(
      `slopePerFrame, ${slopePerFrame}, must be slower against the rows than they are read, 1/rowTimeFrames = ${1 / rowTimeFrames} px`,
    );
  return { slope: slopePerFrame / stretch, derivative: 1 / stretch ** 2 };
}

/** What the unknown aperture of the pixels leaves open of an edge's place, px. Pixels are taken as full squares, which see no wave as
 *  long as they are; with gaps between them they may see up to what a Gaussian as wide as the blur lets through, T. By the sum of
 *  samples across an edge its place then moves with its phase between two pixels, sinusoidally by up to T / π. T is taken for its
 *  greatest: full squares lie closer, but those open on three quarters of their sides come near it. It counts only for
 *  edges sharper than half a pixel. Where an edge runs through several phases on its way, these average.
 *  @param directionRadians  of the edge
 *  @param blurPixels  standard deviation, the pixel in it
 *  @param lengthPixels  of the edge that is fitted */
export function samplingUncertainty(
  directionRadians: number,
  blurPixels: number,
  lengthPixels: number,
): number {
  const sides = [Math.sin(directionRadians), Math.cos(directionRadians)].map(Math.abs);
  const phases = (lengthPixels * Math.min(...sides)) / Math.max(...sides);
  return (transferOf(blurPixels) / (Math.PI * Math.SQRT2)) * Math.min(1, 1 / (Math.PI * phases));
}

/** What a Gaussian as wide as the blur lets through of a wave of one pixel. */
export function transferOf(blurPixels: number): number {
  return Math.exp(-2 * Math.PI ** 2 * blurPixels ** 2);
}

import type { RigidFront } from "@frontpace/arrival";
import type { SlopeContribution } from "@frontpace/tracker";

/** What the direction in which a form moves as a whole leaves open of its speed: along a line that lies aside of it by a small angle a part of the form that
 *  leans by φ is faster by that angle times tan φ. Root mean square over the form.
 *  @param reach  px across the run, either side of the middle of the picture
 *  @param pixelsPerFrame  its speed */
export function directionEffect(
  { angleDegrees, lagPixels }: RigidFront,
  reach: number,
  pixelsPerFrame: number,
): SlopeContribution {
  const squares = Array.from(
    { length: 2 * Math.ceil(reach) },
    (_, k) => (lagPixels(k + 1 - reach) - lagPixels(k - reach)) ** 2,
  ).filter(Number.isFinite);
  const lean = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
  const radians = (angleDegrees.standardUncertainty * Math.PI) / 180;
  return {
    standardUncertaintyPixelsPerFrame: lean * radians * Math.abs(pixelsPerFrame),
    degreesOfFreedom: angleDegrees.degreesOfFreedom,
  };
}

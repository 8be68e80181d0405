import { fitPolynomial } from "@frontpace/fit";
import { type FrontState, modelPosition } from "./front-model.js";

export interface Tilt {
  readonly degrees: number;
  readonly standardUncertaintyDegrees: number;
}

/** Tilt of the front against the path: how far the front is ahead or behind in each part of the width, and a
 *  straight line through that against the distance from the path.
 *  @param strips  streaks of the parts, each row-major, shape [frames, positions]
 *  @param noiseVariance  of a sample averaged over the whole width
 *  @returns the angle between the front's normal and the path, signed; null where the width has fewer than three
 *    parts or one of them shows nothing */
export function measureTilt(
  strips: readonly Float64Array[],
  stripOffsetsPixels: readonly number[],
  state: FrontState,
  noiseVariance: number,
): Tilt | null {
  if (strips.length < 3) return null;
  const shifts: number[] = [];
  const uncertainties: number[] = [];
  for (const data of strips) {
    const frames = state.frontPixels.length;
    const field = { data, frames, positions: data.length / frames };
    let shift = 0;
    let information = 0;
    for (let step = 0; step < 4; step++) {
      const moved = { ...state, frontPixels: state.frontPixels.map((p) => p + shift) };
      let score = 0;
      information = 0;
      for (let p = 0; p < field.positions; p++) {
        const { near, value, byFront, residual, inverse } = modelPosition(field, moved, p);
        let plain = 0;
        let byValue = 0;
        for (let n = 0; n < near.length; n++) {
          score += byFront[n] * residual[n];
          information += byFront[n] ** 2;
          plain += byFront[n];
          byValue += byFront[n] * value[n];
        }
        const [a, b, c] = inverse;
        information -= a * plain * plain + 2 * b * plain * byValue + c * byValue * byValue;
      }
      if (!(information > 0)) return null;
      const limit = 3 * state.blurPixels + state.smearPixels + 2;
      shift += Math.max(-limit, Math.min(limit, score / information));
    }
    shifts.push(shift);
    uncertainties.push(Math.sqrt((noiseVariance * strips.length) / information));
  }
  const line = fitPolynomial(stripOffsetsPixels, shifts, 1, { standardUncertainty: uncertainties });
  const slope = line.coefficients[1];
  const excess = Math.max(1, line.residualStandardDeviation);
  const toDegrees = 180 / Math.PI;
  return {
    degrees: Math.atan(slope) * toDegrees,
    standardUncertaintyDegrees: (excess * Math.sqrt(line.covariance[1][1]) * toDegrees) / (1 + slope * slope),
  };
}

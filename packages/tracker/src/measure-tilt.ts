import { fitPolynomial } from "@frontpace/fit";
import { type FrontState, modelPosition } from "./front-model.js";

export interface Tilt {
  readonly degrees: number;
  readonly standardUncertaintyDegrees: number;
}

/** Tilt of the front against the path: how far the front is ahead or behind in each part of the width, and a
 *  straight line through that against the distance from the path.
 *  @param strips  streaks of the parts, each row-major, shape [frames, positions]
 *  @param state  the front on the path, with the smear that it has in one part of the width
 *  @param noiseVariance  of a sample averaged over the whole width
 *  @param expectedDegrees  where to start from
 *  @returns the angle between the front's normal and the path, signed; null where the width has fewer than three
 *    parts or one of them shows nothing */
export function measureTilt(
  strips: readonly Float64Array[],
  stripOffsetsPixels: readonly number[],
  state: FrontState,
  noiseVariance: number,
  expectedDegrees = 0,
): Tilt | null {
  const stripNoise = noiseVariance * strips.length;
  const expectedSlope = Math.tan((expectedDegrees * Math.PI) / 180);
  const placed = strips.flatMap((data, k) => {
    const place = placeStrip(data, state, stripNoise, expectedSlope * stripOffsetsPixels[k]);
    return place ? [{ ...place, offset: stripOffsetsPixels[k] }] : [];
  });
  if (placed.length < 3) return null;
  const line = fitPolynomial(
    placed.map(({ offset }) => offset),
    placed.map(({ shift }) => shift),
    1,
    { standardUncertainty: placed.map(({ information }) => Math.sqrt(stripNoise / information)) },
  );
  const slope = line.coefficients[1];
  const excess = Math.max(1, line.residualStandardDeviation);
  const toDegrees = 180 / Math.PI;
  return {
    degrees: Math.atan(slope) * toDegrees,
    standardUncertaintyDegrees: (excess * Math.sqrt(line.covariance[1][1]) * toDegrees) / (1 + slope * slope),
  };
}

/** Steps towards the place of the front in one strip. */
const STEPS = 4;
/** A strip shows the front where its change explains this many times what noise would. */
const SEEN = 4;

/** How far the front in one strip is ahead of the state, px, and the information on that for a noise of 1; null
 *  where the strip does not show the front. */
function placeStrip(
  data: Float64Array,
  state: FrontState,
  noiseVariance: number,
  start: number,
): { shift: number; information: number } | null {
  const frames = state.frontPixels.length;
  const field = { data, frames, positions: data.length / frames };
  const limit = 3 * state.blurPixels + state.smearPixels + 2;
  let shift = start;
  let information = 0;
  for (let step = 0; step < STEPS; step++) {
    const moved = { ...state, frontPixels: state.frontPixels.map((p) => p + shift) };
    let score = 0;
    let explained = 0;
    let told = 0;
    information = 0;
    for (let p = 0; p < field.positions; p++) {
      const { near, value, byFront, residual, change, inverse } = modelPosition(field, moved, p);
      const [a, b, c] = inverse;
      if (c > 0) {
        explained += change ** 2 / c;
        told++;
      }
      let plain = 0;
      let byValue = 0;
      for (let n = 0; n < near.length; n++) {
        score += byFront[n] * residual[n];
        information += byFront[n] ** 2;
        plain += byFront[n];
        byValue += byFront[n] * value[n];
      }
      information -= a * plain * plain + 2 * b * plain * byValue + c * byValue * byValue;
    }
    if (!(information > 0) || explained < SEEN * told * noiseVariance) return null;
    shift += Math.max(-limit, Math.min(limit, score / information));
  }
  return { shift, information };
}

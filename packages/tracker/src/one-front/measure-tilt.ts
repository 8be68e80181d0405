import { Matrix, solve } from "ml-matrix";
import type { FrontState } from "../model/front-model.js";
import { PositionFitter } from "../model/position-fitter.js";

/** Angle between the front's normal and the path, signed. */
export interface Tilt {
  readonly degrees: number;
  readonly standardUncertaintyDegrees: number;
}

export interface MeasuredTilt extends Tilt {
  /** px that the front is ahead for each px off the path. */
  readonly tangent: number;
  readonly tangentStandardUncertainty: number;
  /** By how much the slope of the line on the path moves with the tangent, px a frame. */
  readonly slopeByTangent: number;
  /** What the line on the path lacks to go with this tilt: px at frame number `middle`, and px a frame. */
  readonly correction: { readonly middle: number; readonly frontPixels: number; readonly slope: number };
}

/** Streaks of the parts of the width, each row-major, shape [frames, positions]. */
interface Strips {
  readonly strips: readonly Float64Array[];
  readonly stripOffsetsPixels: readonly number[];
  readonly frameNumbers: readonly number[];
}

/** Tilt of the front against the path: where the front is in each part of the width and how fast it runs there, and
 *  through that one line on the path and one tilt. Where a tilted front is seen on part of its way only, its parts
 *  are seen in different frames, and tilt and speed lean on each other.
 *  @param state  the front on the path, with the smear that it has in one part of the width
 *  @param noiseVariance  of a sample averaged over the whole width
 *  @param near  tangent to start from
 *  @returns null where fewer than three parts show the front */
export function measureTilt(
  { strips, stripOffsetsPixels, frameNumbers }: Strips,
  state: FrontState,
  noiseVariance: number,
  near = 0,
): MeasuredTilt | null {
  const stripNoise = noiseVariance * strips.length;
  const middle = (frameNumbers[0] + frameNumbers[frameNumbers.length - 1]) / 2;
  const times = frameNumbers.map((number) => number - middle);
  const placed = strips.flatMap((data, k) => {
    const offset = stripOffsetsPixels[k];
    const place = placeStrip(data, state, times, stripNoise, near * offset);
    return place ? [{ ...place, offset }] : [];
  });
  if (placed.length < 3) return null;

  // Unknowns: shift and slope of the line on the path, tangent.
  const normal = Matrix.zeros(3, 3);
  const right = Matrix.zeros(3, 1);
  for (const { offset, shift, score, information } of placed) {
    const design = designOf(offset);
    const weighted = design.transpose().mmul(information);
    normal.add(weighted.mmul(design));
    right.add(weighted.mmul(Matrix.columnVector([shift, 0]))).add(design.transpose().mmul(score));
  }
  const solution = solve(normal, right);
  const [frontPixels, slope, tangent] = solution.to1DArray();
  const tangentVariance = stripNoise * solve(normal, Matrix.columnVector([0, 0, 1])).get(2, 0);
  const lineByTangent = solve(normal.subMatrix(0, 1, 0, 1), normal.subMatrix(0, 1, 2, 2)).neg();

  // Parts that do not lie on the plane by what their noise explains: the front is bent, or it wanders.
  let chiSquared = 0;
  for (const { offset, shift, score, information } of placed) {
    const off = Matrix.columnVector([shift, 0])
      .add(solve(information, score))
      .sub(designOf(offset).mmul(solution));
    chiSquared += off.transpose().mmul(information).mmul(off).get(0, 0) / stripNoise;
  }
  const excess = Math.max(1, chiSquared / (2 * placed.length - 3));
  const tangentStandardUncertainty = Math.sqrt(excess * tangentVariance);
  if (!Number.isFinite(tangentStandardUncertainty)) return null;
  const toDegrees = 180 / Math.PI;
  return {
    degrees: Math.atan(tangent) * toDegrees,
    standardUncertaintyDegrees: (tangentStandardUncertainty * toDegrees) / (1 + tangent * tangent),
    tangent,
    tangentStandardUncertainty,
    slopeByTangent: lineByTangent.get(1, 0),
    correction: { middle, frontPixels, slope },
  };
}

/** Shift and slope in a strip, from those on the path and the tangent. */
function designOf(offset: number): Matrix {
  return new Matrix([
    [1, 0, offset],
    [0, 1, 0],
  ]);
}

/** Steps towards the place of the front in one strip. */
const STEPS = 4;
/** A strip shows the front where its change explains this many times what noise would. */
const SEEN = 4;

interface PlacedStrip {
  /** px ahead of the state. */
  readonly shift: number;
  /** There, by a further shift and a change of slope: derivative of −½ Σ residual², and its expected negative
   *  derivative, levels eliminated; shapes (2, 1) and (2, 2). */
  readonly score: Matrix;
  readonly information: Matrix;
}

/** How far the front in one strip is ahead of the state; null where the strip does not show the front.
 *  @param times  of the frames, about the middle */
function placeStrip(
  data: Float64Array,
  state: FrontState,
  times: readonly number[],
  noiseVariance: number,
  start: number,
): PlacedStrip | null {
  const limit = 3 * state.blurPixels + state.smearPixels + 2;
  const positions = data.length / times.length;
  const fitter = new PositionFitter({ data, frames: times.length, positions });
  let shift = start;
  for (let step = 0; ; step++) {
    const { score, information, explained } = lookAt(fitter, positions, state, times, shift);
    const [aa, ab, bb] = information;
    if (!(aa > 0 && aa * bb > ab * ab) || explained < SEEN * noiseVariance) return null;
    if (step === STEPS)
      return {
        shift,
        score: Matrix.columnVector(score),
        information: new Matrix([
          [aa, ab],
          [ab, bb],
        ]),
      };
    shift += Math.max(-limit, Math.min(limit, score[0] / aa));
  }
}

/** Score and information of shift and slope with the front moved by a shift, and what its change explains, on the
 *  mean of the positions that tell it. */
function lookAt(
  fitter: PositionFitter,
  positions: number,
  state: FrontState,
  times: readonly number[],
  shift: number,
) {
  const { near, value, byFront, residual, inverse } = fitter;
  fitter.begin({ ...state, frontPixels: state.frontPixels.map((p) => p + shift) });
  let byShift = 0;
  let bySlope = 0;
  let shiftShift = 0;
  let shiftSlope = 0;
  let slopeSlope = 0;
  let explained = 0;
  let told = 0;
  for (let p = 0; p < positions; p++) {
    fitter.fit(p);
    const { change, nearCount } = fitter;
    const a = inverse[0];
    const b = inverse[1];
    const c = inverse[2];
    // No change at all: the strip is not whole here.
    if (c > 0 && change !== 0) {
      explained += change ** 2 / c;
      told++;
    }
    let shiftPlain = 0;
    let slopePlain = 0;
    let shiftValue = 0;
    let slopeValue = 0;
    for (let n = 0; n < nearCount; n++) {
      const d0 = byFront[n];
      const d1 = d0 * times[near[n]];
      byShift += d0 * residual[n];
      bySlope += d1 * residual[n];
      shiftShift += d0 * d0;
      shiftSlope += d0 * d1;
      slopeSlope += d1 * d1;
      shiftPlain += d0;
      slopePlain += d1;
      shiftValue += d0 * value[n];
      slopeValue += d1 * value[n];
    }
    // Lost to the levels.
    const ofShift = a * shiftPlain + b * shiftValue;
    const ofSlope = a * slopePlain + b * slopeValue;
    const valueOfShift = b * shiftPlain + c * shiftValue;
    const valueOfSlope = b * slopePlain + c * slopeValue;
    shiftShift -= shiftPlain * ofShift + shiftValue * valueOfShift;
    shiftSlope -= shiftPlain * ofSlope + shiftValue * valueOfSlope;
    slopeSlope -= slopePlain * ofSlope + slopeValue * valueOfSlope;
  }
  const score = [byShift, bySlope];
  const information = [shiftShift, shiftSlope, slopeSlope];
  return { score, information, explained: told > 0 ? explained / told : 0 };
}

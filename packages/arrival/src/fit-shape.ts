import { median } from "@frontpace/fit";
import { addObservation, emptyEquations, solveEquations } from "./normal-equations.js";
import type { Samples } from "./samples.js";
import type { ShapeModel } from "./shape-models.js";

const MOST_STEPS = 40;
/** Samples farther from the fit than this many robust standard deviations have no say (common practice, no source). */
const FARTHEST = 4;
/** frames; no smaller standard deviation is believed. */
const SMALLEST_SPREAD = 1e-4;
/** The fit has settled where no predicted time moves by more of a standard deviation. */
const SETTLED = 1e-5;

export interface ShapeFit {
  readonly model: ShapeModel;
  readonly parameters: Float64Array;
  /** Shape (N,), NaN where the model says nothing. */
  readonly residuals: Float64Array;
  /** Whether a sample has a say, shape (N,). */
  readonly used: Uint8Array;
  readonly usedCount: number;
  /** Robust standard deviation of the residuals, frames. */
  readonly spread: number;
}

/** Robust least squares by Gauss and Newton's steps. Left out is what lies far from the fit, and what by the *predicted* time would have
 *  arrived where times cannot be told: by the observed time, late noise would be kept and early noise dropped.
 *  @returns null where the samples do not determine the model */
export function fitShape(model: ShapeModel, samples: Samples, start: Float64Array): ShapeFit | null {
  const { x, y, time, weight, earliest, latest } = samples;
  const count = x.length;
  const residuals = new Float64Array(count);
  const used = new Uint8Array(count);
  const derivatives = new Float64Array(model.parameters);
  const parameters = start.slice();
  let spread = Number.NaN;
  for (let step = 0; step < MOST_STEPS; step++) {
    const inRange: number[] = [];
    for (let i = 0; i < count; i++) {
      const predicted = model.time(parameters, x[i], y[i], derivatives);
      residuals[i] = time[i] - predicted;
      used[i] = predicted >= earliest && predicted <= latest ? 1 : 0;
      if (used[i]) inRange.push(Math.abs(residuals[i]));
    }
    if (inRange.length <= 2 * model.parameters) return null;
    spread = Math.max(SMALLEST_SPREAD, 1.4826 * median(inRange));
    const equations = emptyEquations(model.parameters);
    for (let i = 0; i < count; i++) {
      if (!used[i]) continue;
      if (Math.abs(residuals[i]) > FARTHEST * spread) {
        used[i] = 0;
        continue;
      }
      model.time(parameters, x[i], y[i], derivatives);
      addObservation(equations, derivatives, residuals[i], weight[i]);
    }
    const move = solveEquations(equations);
    if (!move?.every(Number.isFinite)) return null;
    for (let k = 0; k < move.length; k++) parameters[k] += move[k];
    let squares = 0;
    for (let a = 0; a < move.length; a++) squares += move[a] * equations.right[a];
    const moved = Math.sqrt(Math.max(0, squares) / median(weight) / inRange.length);
    if (moved < SETTLED * spread) break;
  }
  let usedCount = 0;
  for (const one of used) usedCount += one;
  return { model, parameters, residuals, used, usedCount, spread };
}

import { median } from "@frontpace/fit";
import type { ShapeFit } from "./fit-shape.js";
import type { InFront } from "./in-front.js";
import { blockOf } from "./leave-out.js";
import type { Samples } from "./samples.js";

/** How well one model fits the arrivals. */
export interface ShapeCandidate {
  readonly name: string;
  readonly parameters: number;
  /** Mean square of the residuals, each no more than four robust standard deviations of the best model, frames². */
  readonly meanSquare: number;
  /** Akaike's criterion with its correction for few observations; smaller is better. */
  readonly aicc: number;
  /** Share of the spread of the arrivals that it explains, squares. */
  readonly explained: number;
}

export interface Comparison {
  readonly candidates: readonly ShapeCandidate[];
  readonly effectiveCells: number;
  /** Time between the first and the last arrival but for one in twenty at either end, frames. */
  readonly span: number;
}

const FARTHEST = 4;
/** Blocks along the run and across it in which residuals that are alike show. */
const BLOCKS: readonly (readonly [number, number])[] = [
  [16, 1],
  [1, 16],
  [6, 6],
];

/** The models held against the same arrivals: those about which all of them say something.
 *  @returns null where there is none
 *  @see Hurvich and Tsai, Biometrika 76 (1989) 297 (AICc; citation from memory) */
export function compareShapes(
  fits: Readonly<Record<string, ShapeFit | null>>,
  samples: Samples,
  inFront: InFront,
): Comparison | null {
  const named = Object.entries(fits).flatMap(([name, fit]) => (fit ? [{ name, fit }] : []));
  if (named.length === 0) return null;
  const { time, earliest, latest } = samples;
  const shared = Array.from(time.keys()).filter(
    (i) =>
      time[i] >= earliest && time[i] <= latest && named.every(({ fit }) => Number.isFinite(fit.residuals[i])),
  );
  if (shared.length < 40) return null;
  const spreads = named.map(
    ({ fit }) => 1.4826 * median(shared.map((i) => Math.abs(fit.residuals[i]))) + 1e-6,
  );
  const least = Math.min(...spreads);
  const clipped = (residual: number) => Math.min(residual ** 2, (FARTHEST * least) ** 2);
  const meanSquares = named.map(({ fit }) => mean(shared.map((i) => clipped(fit.residuals[i]))));
  const { fit: best } = named[meanSquares.indexOf(Math.min(...meanSquares))];
  const sorted = shared.map((i) => time[i]).sort((a, b) => a - b);
  const span = sorted[Math.floor(0.95 * sorted.length)] - sorted[Math.floor(0.05 * sorted.length)];
  const middle = median(sorted);
  const spread = Math.max(least, 1.4826 * median(sorted.map((value) => Math.abs(value - middle))));
  const effectiveCells = Math.max(
    20,
    shared.length / alikeness(best, samples, inFront, Math.sqrt(Math.min(...meanSquares))),
  );
  const candidates = named.map(({ name, fit }, k): ShapeCandidate => {
    const p = fit.model.parameters + 1;
    const correction = (2 * p * (p + 1)) / Math.max(1, effectiveCells - p - 1);
    const aicc = effectiveCells * Math.log(meanSquares[k]) + 2 * p + correction;
    const explained = 1 - Math.min(1, (spreads[k] / spread) ** 2);
    return { name, parameters: fit.model.parameters, meanSquare: meanSquares[k], aicc, explained };
  });
  return { candidates, effectiveCells, span: Math.max(span, 1e-9) };
}

/** How many cells are alike: the mean square of the blocks' means over what it would be were all cells independent. */
function alikeness(fit: ShapeFit, samples: Samples, inFront: InFront, deviation: number): number {
  const ratios = BLOCKS.map((blocks) => {
    const of = blockOf(fit, samples, inFront, blocks);
    const count = blocks[0] * blocks[1];
    const sums = new Float64Array(count);
    const sizes = new Float64Array(count);
    for (let i = 0; i < of.length; i++) {
      if (!fit.used[i]) continue;
      sums[of[i]] += fit.residuals[i];
      sizes[of[i]]++;
    }
    const filled = Array.from(sizes.keys()).filter((k) => sizes[k] > 0);
    return mean(filled.map((k) => sums[k] ** 2 / sizes[k])) / deviation ** 2;
  });
  return Math.max(1, ...ratios);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

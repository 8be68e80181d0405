import { studentFactor } from "./student-t.js";

/** A value with what is known of its uncertainty. */
export interface Quantity {
  readonly value: number;
  /** One standard uncertainty, same unit as the value; absent means not stated, 0 means exact on purpose. */
  readonly standardUncertainty?: number;
  /** Degrees of freedom of that uncertainty; absent means infinite. */
  readonly degreesOfFreedom?: number;
}

/** A fitted slope, px a frame. */
export interface SlopeEstimate {
  /** Signed along the path. */
  readonly slopePixelsPerFrame: number;
  readonly standardUncertaintyPixelsPerFrame: number;
  readonly degreesOfFreedom: number;
}

export interface BudgetLine {
  readonly source: "fit" | "rate" | "scale";
  readonly type: "A" | "B";
  /** Contribution to the speed, m/s. */
  readonly standardUncertainty: number;
  /** null: infinite. */
  readonly degreesOfFreedom: number | null;
}

export interface Speed {
  /** m/s, a magnitude */
  readonly value: number;
  readonly standardUncertainty: number;
  /** coverageFactor · standardUncertainty */
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly coverageProbability: 0.95;
  /** null: infinite. */
  readonly degreesOfFreedom: number | null;
  /** False while an input is given without its uncertainty: the interval is then of the reading only. */
  readonly complete: boolean;
  /** Inputs whose uncertainty was not stated. */
  readonly missing: readonly ("rate" | "scale")[];
  readonly budget: readonly BudgetLine[];
}

/** Speed |slope| · rate · scale with its budget: relative standard uncertainties in quadrature, Welch-Satterthwaite
 *  degrees of freedom, Student's factor at 95 %. An uncertainty that is not stated adds nothing to the budget
 *  and is named in `missing`.
 *  @throws RangeError on a rate or scale that is not finite and > 0, a slope that is not finite, an uncertainty that is
 *    negative or not finite, or degrees of freedom that are not > 0
 *  @see JCGM 100:2008, 5.1.6, G.4 */
export function speedFrom(slope: SlopeEstimate, rateHz: Quantity, metresPerPixel: Quantity): Speed {
  checkSlope(slope);
  checkQuantity("rateHz", rateHz);
  checkQuantity("metresPerPixel", metresPerPixel);
  const pixelsPerFrame = Math.abs(slope.slopePixelsPerFrame);
  const value = pixelsPerFrame * rateHz.value * metresPerPixel.value;
  const budget: BudgetLine[] = [
    {
      source: "fit",
      type: "A",
      standardUncertainty: slope.standardUncertaintyPixelsPerFrame * rateHz.value * metresPerPixel.value,
      degreesOfFreedom: finiteOrNull(slope.degreesOfFreedom),
    },
  ];
  const missing: ("rate" | "scale")[] = [];
  for (const [source, quantity] of [
    ["scale", metresPerPixel],
    ["rate", rateHz],
  ] as const) {
    if (quantity.standardUncertainty === undefined) missing.push(source);
    else
      budget.push({
        source,
        type: "B",
        standardUncertainty: (value * quantity.standardUncertainty) / quantity.value,
        degreesOfFreedom: finiteOrNull(quantity.degreesOfFreedom ?? Number.POSITIVE_INFINITY),
      });
  }
  const standardUncertainty = Math.hypot(...budget.map((line) => line.standardUncertainty));
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    budget.map((line) => line.standardUncertainty),
    budget.map((line) => line.degreesOfFreedom ?? Number.POSITIVE_INFINITY),
  );
  const coverageFactor = studentFactor(degreesOfFreedom);
  return {
    value,
    standardUncertainty,
    expandedUncertainty: coverageFactor * standardUncertainty,
    coverageFactor,
    coverageProbability: 0.95,
    degreesOfFreedom: finiteOrNull(degreesOfFreedom),
    complete: missing.length === 0,
    missing,
    budget,
  };
}

/** Welch-Satterthwaite: u⁴ / Σ uᵢ⁴/νᵢ for independent contributions uᵢ with νᵢ degrees of freedom; Infinity
 *  where all are infinite or nothing contributes. Not truncated to a whole number.
 *  @throws RangeError on lengths that differ or degrees of freedom that are not > 0
 *  @see JCGM 100:2008, G.4.1, equation (G.2b) */
export function effectiveDegreesOfFreedom(
  contributions: readonly number[],
  degreesOfFreedom: readonly number[],
): number {
  if (contributions.length !== degreesOfFreedom.length)
    throw new RangeError(
      `degreesOfFreedom must have the length of contributions, ${contributions.length}, got ${degreesOfFreedom.length}`,
    );
  degreesOfFreedom.forEach((value, i) => {
    checkFreedom(`degreesOfFreedom[${i}]`, value);
  });
  const combined = Math.hypot(...contributions);
  if (combined === 0) return Number.POSITIVE_INFINITY;
  return 1 / contributions.reduce((sum, u, i) => sum + (u / combined) ** 4 / degreesOfFreedom[i], 0);
}

function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function checkSlope(slope: SlopeEstimate): void {
  if (!Number.isFinite(slope.slopePixelsPerFrame))
    throw new RangeError(`slopePixelsPerFrame must be finite, got ${slope.slopePixelsPerFrame}`);
  checkUncertainty("standardUncertaintyPixelsPerFrame", slope.standardUncertaintyPixelsPerFrame);
  checkFreedom("degreesOfFreedom", slope.degreesOfFreedom);
}

function checkQuantity(name: string, { value, standardUncertainty, degreesOfFreedom }: Quantity): void {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY))
    throw new RangeError(`${name} must be finite and > 0, got ${value}`);
  if (standardUncertainty !== undefined) checkUncertainty(`${name}.standardUncertainty`, standardUncertainty);
  if (degreesOfFreedom !== undefined) checkFreedom(`${name}.degreesOfFreedom`, degreesOfFreedom);
}

function checkUncertainty(name: string, value: number): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY))
    throw new RangeError(`${name} must be finite and >= 0, got ${value}`);
}

function checkFreedom(name: string, value: number): void {
  if (!(value > 0)) throw new RangeError(`${name} must be > 0, got ${value}`);
}

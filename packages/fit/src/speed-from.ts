import { effectiveDegreesOfFreedom } from "./effective-degrees-of-freedom.js";
import { studentFactor } from "./student-t.js";

/** A value with what is known of its uncertainty. */
export interface Quantity {
  readonly value: number;
  /** One standard uncertainty, same unit as the value; absent means not stated, 0 means exact on purpose. */
  readonly standardUncertainty?: number;
  /** Degrees of freedom of that uncertainty; absent means infinite. */
  readonly degreesOfFreedom?: number;
  /** What makes it uncertain, independent of each other: each a line of the budget, in place of one for all. */
  readonly parts?: readonly QuantityPart[];
}

/** One part of a quantity's uncertainty. */
export interface QuantityPart {
  /** Names the line, behind the name of the quantity. */
  readonly source: string;
  readonly type: "A" | "B";
  /** Relative to the value. */
  readonly relativeStandardUncertainty: number;
  /** Infinity where the uncertainty itself is taken to be certain. */
  readonly degreesOfFreedom: number;
}

/** A fitted slope, px a frame. */
export interface SlopeEstimate {
  /** Signed along the path. */
  readonly slopePixelsPerFrame: number;
  /** Of readings and wander together. */
  readonly standardUncertaintyPixelsPerFrame: number;
  readonly degreesOfFreedom: number;
  /** Share of that variance that the wander explains, 0..1. Default: not told apart, all of it is the line `fit`. */
  readonly wanderShare?: number | null;
}

/** What an effect that is not in the residuals of the fit adds to the slope. */
export interface SlopeContribution {
  /** Names the line of the budget; each name once, so that no effect is counted twice. */
  readonly source: string;
  /** A: from the statistics of a series of observations; B: otherwise (JCGM 100:2008, 4.2, 4.3). */
  readonly type: "A" | "B";
  readonly standardUncertaintyPixelsPerFrame: number;
  /** Infinity where the uncertainty itself is taken to be certain. */
  readonly degreesOfFreedom: number;
}

export interface BudgetLine {
  /** `fit`, `wander`, `scale`, `rate`, `scale: ` or `rate: ` and the name of a part, or the name of a further
   *  contribution. */
  readonly source: string;
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
  /** fit, wander, the further contributions, scale, rate: those that are known. */
  readonly budget: readonly BudgetLine[];
}

/** Speed |slope| · rate · scale with its budget: relative standard uncertainties in quadrature, Welch-Satterthwaite
 *  degrees of freedom, Student's factor at 95 %. An uncertainty that is not stated adds nothing to the budget
 *  and is named in `missing`.
 *  @param further  contributions to the slope beyond its fit, independent of it and of each other
 *  @throws RangeError on a rate or scale that is not finite and > 0, a slope that is not finite, an uncertainty that is
 *    negative or not finite, degrees of freedom that are not > 0, a share outside 0..1, or a source named twice
 *  @see JCGM 100:2008, 5.1.6, G.4 */
export function speedFrom(
  slope: SlopeEstimate,
  rateHz: Quantity,
  metresPerPixel: Quantity,
  further: readonly SlopeContribution[] = [],
): Speed {
  checkSlope(slope);
  checkQuantity("rateHz", rateHz);
  checkQuantity("metresPerPixel", metresPerPixel);
  checkFurther(further);
  const metresPerSecond = rateHz.value * metresPerPixel.value;
  const value = Math.abs(slope.slopePixelsPerFrame) * metresPerSecond;
  const line: BudgetLine = {
    source: "fit",
    type: "A",
    standardUncertainty: slope.standardUncertaintyPixelsPerFrame * metresPerSecond,
    degreesOfFreedom: finiteOrNull(slope.degreesOfFreedom),
  };
  const beyondLine: BudgetLine[] = further.map((contribution) => ({
    source: contribution.source,
    type: contribution.type,
    standardUncertainty: contribution.standardUncertaintyPixelsPerFrame * metresPerSecond,
    degreesOfFreedom: finiteOrNull(contribution.degreesOfFreedom),
  }));
  const missing: ("rate" | "scale")[] = [];
  for (const [source, quantity] of [
    ["scale", metresPerPixel],
    ["rate", rateHz],
  ] as const) {
    if (quantity.standardUncertainty === undefined) missing.push(source);
    if (quantity.parts)
      for (const part of quantity.parts)
        beyondLine.push({
          source: `${source}: ${part.source}`,
          type: part.type,
          standardUncertainty: value * part.relativeStandardUncertainty,
          degreesOfFreedom: finiteOrNull(part.degreesOfFreedom),
        });
    else if (quantity.standardUncertainty !== undefined)
      beyondLine.push({
        source,
        type: "B",
        standardUncertainty: (value * quantity.standardUncertainty) / quantity.value,
        degreesOfFreedom: finiteOrNull(quantity.degreesOfFreedom ?? Number.POSITIVE_INFINITY),
      });
  }
  // Readings and wander are two shares of one estimated variance: Welch-Satterthwaite, which takes the estimates to
  // be independent, would find more degrees of freedom in them than the N − 2 there are. They count as one here.
  const independent = [line, ...beyondLine];
  const standardUncertainty = Math.hypot(...independent.map((one) => one.standardUncertainty));
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    independent.map((one) => one.standardUncertainty),
    independent.map((one) => one.degreesOfFreedom ?? Number.POSITIVE_INFINITY),
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
    budget: [...splitLine(line, slope.wanderShare ?? null), ...beyondLine],
  };
}

/** The fit of readings and wander as a line for each: variances by share, both with the degrees of freedom of the
 *  one estimate they are parts of. */
function splitLine(line: BudgetLine, wanderShare: number | null): BudgetLine[] {
  if (wanderShare === null) return [line];
  const { standardUncertainty } = line;
  return [
    { ...line, standardUncertainty: standardUncertainty * Math.sqrt(1 - wanderShare) },
    { ...line, source: "wander", standardUncertainty: standardUncertainty * Math.sqrt(wanderShare) },
  ];
}

function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function checkSlope(slope: SlopeEstimate): void {
  if (!Number.isFinite(slope.slopePixelsPerFrame))
    throw new RangeError(`slopePixelsPerFrame must be finite, got ${slope.slopePixelsPerFrame}`);
  checkUncertainty("standardUncertaintyPixelsPerFrame", slope.standardUncertaintyPixelsPerFrame);
  checkFreedom("degreesOfFreedom", slope.degreesOfFreedom);
  const share = slope.wanderShare ?? 0;
  if (!(share >= 0 && share <= 1)) throw new RangeError(`wanderShare must be 0..1 or null, got ${share}`);
}

function checkQuantity(
  name: string,
  { value, standardUncertainty, degreesOfFreedom, parts = [] }: Quantity,
): void {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY))
    throw new RangeError(`${name} must be finite and > 0, got ${value}`);
  if (standardUncertainty !== undefined) checkUncertainty(`${name}.standardUncertainty`, standardUncertainty);
  if (degreesOfFreedom !== undefined) checkFreedom(`${name}.degreesOfFreedom`, degreesOfFreedom);
  parts.forEach((part, i) => {
    if (parts.findIndex(({ source }) => source === part.source) !== i)
      throw new RangeError(`${name}.parts[${i}].source must not be named already, got "${part.source}"`);
    checkUncertainty(`${name}.parts[${i}].relativeStandardUncertainty`, part.relativeStandardUncertainty);
    checkFreedom(`${name}.parts[${i}].degreesOfFreedom`, part.degreesOfFreedom);
  });
}

function checkFurther(further: readonly SlopeContribution[]): void {
  const named = new Set(["fit", "wander", "scale", "rate"]);
  further.forEach(({ source, standardUncertaintyPixelsPerFrame, degreesOfFreedom }, i) => {
    if (named.has(source))
      throw new RangeError(`further[${i}].source must not be named already, got "${source}"`);
    named.add(source);
    checkUncertainty(`further[${i}].standardUncertaintyPixelsPerFrame`, standardUncertaintyPixelsPerFrame);
    checkFreedom(`further[${i}].degreesOfFreedom`, degreesOfFreedom);
  });
}

function checkUncertainty(name: string, value: number): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY))
    throw new RangeError(`${name} must be finite and >= 0, got ${value}`);
}

function checkFreedom(name: string, value: number): void {
  if (!(value > 0)) throw new RangeError(`${name} must be > 0, got ${value}`);
}

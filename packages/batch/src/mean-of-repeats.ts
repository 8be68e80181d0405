import { effectiveDegreesOfFreedom, studentFactor } from "@frontpace/fit";
import { betweenTakes, type IndependentValue } from "./between-takes.js";
import { chiSquaredTail } from "./chi-squared.js";

/** Part of the uncertainty of a speed. */
export interface SpeedPart {
  readonly source: string;
  /** m/s */
  readonly standardUncertainty: number;
  /** null: infinite */
  readonly degreesOfFreedom: number | null;
  /** The same text in two takes: the same error, in both in the same sense. null: of this take alone. */
  readonly sharedAs: string | null;
}

export interface RepeatedSpeed {
  readonly name: string;
  /** m/s */
  readonly value: number;
  readonly parts: readonly SpeedPart[];
}

/** The mean of repeats of one event, m/s. */
export interface MeanOfRepeats {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly coverageProbability: 0.95;
  /** null: infinite */
  readonly degreesOfFreedom: number | null;
  /** Of each take, without what takes share. */
  readonly ownUncertainties: readonly number[];
  /** Of a single take, by its own budget: root mean square of the takes. */
  readonly withinTakeStandardDeviation: number;
  /** From take to take, beyond that. */
  readonly betweenTakeStandardDeviation: number;
  /** Of within and between together: what one more take would differ by. */
  readonly intermediatePrecision: number;
  /** What the takes share, which their number does not shrink: its part in the standard uncertainty. */
  readonly shared: readonly { readonly source: string; readonly standardUncertainty: number }[];
  /** How often takes would differ so much or more by their own uncertainties alone. */
  readonly chance: number;
  /** Takes that differ from the mean of the others by more than these scatter. */
  readonly disagreeing: readonly string[];
}

/** Mean of speeds of one event. Parts that takes share add up in each other's sense and join after the mean; the others are told apart from
 *  what the takes differ by beyond them. The mean's own part has N − 1 degrees of freedom, also where nothing is seen between the takes: few
 *  takes may hide it.
 *  @param speeds  at least two
 *  @throws RangeError
 *  @see JCGM 100:2008, 5.2.2 (equation 16), G.4, H.5; ISO 5725-3:2023 for the words */
export function meanOfRepeats(speeds: readonly RepeatedSpeed[]): MeanOfRepeats {
  const count = speeds.length;
  const uses = countUses(speeds);
  const isShared = ({ sharedAs }: SpeedPart) => sharedAs !== null && uses.get(sharedAs)! > 1;
  const values = speeds.map(({ value, parts }) => {
    const own = parts.filter((part) => !isShared(part)).map((part) => part.standardUncertainty);
    return { value, standardUncertainty: Math.hypot(...own) };
  });
  const found = betweenTakes(values);

  const sums = new Map<string, { source: string; standardUncertainty: number; degreesOfFreedom: number }>();
  speeds.forEach(({ parts }, i) => {
    for (const part of parts.filter(isShared)) {
      const key = `${part.source}\n${part.sharedAs}`;
      const sum = sums.get(key) ?? {
        source: part.source,
        standardUncertainty: 0,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
      };
      sum.standardUncertainty += found.weights[i] * part.standardUncertainty;
      sum.degreesOfFreedom = Math.min(
        sum.degreesOfFreedom,
        part.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
      );
      sums.set(key, sum);
    }
  });
  const shared = [...sums.values()];
  const contributions = [found.standardUncertainty, ...shared.map((part) => part.standardUncertainty)];
  const standardUncertainty = Math.hypot(...contributions);
  const degrees = effectiveDegreesOfFreedom(contributions, [
    count - 1,
    ...shared.map((part) => part.degreesOfFreedom),
  ]);
  const coverageFactor = studentFactor(degrees);
  const within = Math.hypot(...values.map((one) => one.standardUncertainty)) / Math.sqrt(count);
  const chance = chiSquaredTail(found.weightedSquares, count - 1);
  return {
    value: found.mean,
    standardUncertainty,
    expandedUncertainty: coverageFactor * standardUncertainty,
    coverageFactor,
    coverageProbability: 0.95,
    degreesOfFreedom: Number.isFinite(degrees) ? degrees : null,
    ownUncertainties: values.map((one) => one.standardUncertainty),
    withinTakeStandardDeviation: within,
    betweenTakeStandardDeviation: found.betweenStandardDeviation,
    intermediatePrecision: Math.hypot(within, found.betweenStandardDeviation),
    shared: shared.map(({ source, standardUncertainty: u }) => ({ source, standardUncertainty: u })),
    chance,
    disagreeing:
      count === 2 ? (chance < 0.05 ? speeds : []).map(({ name }) => name) : namesApart(speeds, values),
  };
}

function countUses(speeds: readonly RepeatedSpeed[]): Map<string, number> {
  const uses = new Map<string, number>();
  for (const { parts } of speeds)
    for (const key of new Set(parts.flatMap(({ sharedAs }) => sharedAs ?? [])))
      uses.set(key, (uses.get(key) ?? 0) + 1);
  return uses;
}

/** Each take against the mean of the others, 95 % for all comparisons together. */
function namesApart(speeds: readonly RepeatedSpeed[], values: readonly IndependentValue[]): string[] {
  const factor = studentFactor(values.length - 2, 1 - 0.05 / values.length);
  return speeds.flatMap(({ name }, i) => {
    const others = betweenTakes(values.toSpliced(i, 1));
    const apart = Math.abs(values[i].value - others.mean);
    const scatter = Math.hypot(
      values[i].standardUncertainty,
      others.betweenStandardDeviation,
      others.standardUncertainty,
    );
    return apart > factor * scatter ? [name] : [];
  });
}

import { checkSameTake } from "./check-same-take.js";
import { compareBounded, lowestRate } from "./compare-bounded.js";
import { compareMeasured } from "./compare-measured.js";
import { compareQuantity } from "./compare-quantity.js";
import { compareSettings } from "./compare-settings.js";
import type { ComparedQuantity, Comparison, ObservedTake, PlanCompared } from "./comparison-types.js";

/** Holds a plan against what was observed, quantity by quantity.
 *  @throws PlannerError `different-takes` where the plan was made for a take of another name */
export function comparePlan(plan: PlanCompared, observed: ObservedTake): Comparison {
  checkSameTake(plan, observed.name);
  const quantities = [...compareSettings(plan, observed), ...asSeen(plan, observed)];
  const { outcome } = observed;
  return {
    held: outcome.status === "measured" && quantities.every(({ holds }) => holds),
    quantities,
    lowestRateHz: outcome.status === "bounded" ? lowestRate(observed, outcome) : null,
  };
}

/** What the take showed. */
function asSeen(plan: PlanCompared, observed: ObservedTake): ComparedQuantity[] {
  const { outcome } = observed;
  if (outcome.status === "measured") return compareMeasured(plan, observed, outcome);
  if (outcome.status === "bounded") return compareBounded(plan, observed, outcome);
  return [notFound(plan, outcome.message)];
}

/** A plan whose front was not found did not hold. */
function notFound({ request }: PlanCompared, message: string): ComparedQuantity {
  const line = compareQuantity({
    quantity: "speed",
    planned: request.speedMetresPerSecond,
    observed: null,
    allowance: null,
    harmful: "either",
    unknown: message,
  });
  return { ...line, holds: false, next: NOT_FOUND };
}

const NOT_FOUND =
  "film the event within the frames (trigger) and along the path (--path), with more light or a larger step; frontpace check says what step a dry run lets through";

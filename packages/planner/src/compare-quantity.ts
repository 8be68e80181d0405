import type { ComparedQuantity } from "./comparison-types.js";
import { fourDigits } from "./four-digits.js";
import type { SpeedRange } from "./request-types.js";

/** What is held against what. */
export interface Observation {
  readonly quantity: ComparedQuantity["quantity"];
  /** What both values hold, where one is predicted. */
  readonly label?: string;
  /** null where the plan does not say. */
  readonly planned: SpeedRange | null;
  /** null where the take does not say. */
  readonly observed: number | null;
  /** How far observed and planned may lie apart and still agree; null where nothing is known of it. */
  readonly allowance: number | null;
  /** Which difference is to the take's disadvantage. */
  readonly harmful: "more" | "less" | "either" | "neither";
  /** Said where it is: why it differs, and what to set for the next take. */
  readonly because?: string;
  readonly next?: string;
  /** Said where it is not known. */
  readonly unknown?: string;
}

/** Differences beneath this are of rounding. */
const ROUNDING = 1e-9;

/** The verdict on one quantity: held where it lies within what was planned, or so near that its uncertainty allows it. */
export function compareQuantity(observation: Observation): ComparedQuantity {
  const { quantity, label, planned, observed } = observation;
  const judged =
    planned === null || observed === null ? notKnown(observation) : verdictOn(observation, planned, observed);
  return { quantity, ...(label !== undefined && { label }), planned, observed, ...judged };
}

type Judged = Omit<ComparedQuantity, "quantity" | "label" | "planned" | "observed">;

function notKnown({ planned, unknown }: Observation): Judged {
  const reason = unknown ?? (planned === null ? "the plan does not say" : "the take does not say");
  return { verdict: "not-known", beyondUncertainty: null, holds: true, reason, next: null };
}

function verdictOn(
  { allowance, harmful, because, next }: Observation,
  planned: SpeedRange,
  observed: number,
): Judged {
  const excess = Math.max(planned.low - observed, observed - planned.high, 0);
  const more = observed > planned.high;
  const outside = excess > ROUNDING * Math.abs(observed);
  const beyondUncertainty = allowance === null ? null : excess > allowance;
  if (!outside || beyondUncertainty === false) {
    const reason = outside
      ? "outside of what was planned, but no further than the uncertainty allows"
      : "as planned";
    return { verdict: "held", beyondUncertainty: false, holds: true, reason, next: null };
  }
  const harms = harmful === "either" || harmful === (more ? "more" : "less");
  const nearest = more ? planned.high : planned.low;
  const times = `${fourDigits(observed / nearest)} times what was planned`;
  const why = because && (harms || harmful === "neither") ? `: ${because}` : "";
  return {
    verdict: more ? "exceeded" : "fell-short",
    beyondUncertainty,
    holds: !harms,
    reason: `${times}${why}${harms ? "" : harmful === "neither" ? "; by itself that does no harm" : "; that does no harm"}`,
    next: harms ? (next ?? null) : null,
  };
}

import { checkRequest } from "./check-request.js";
import { type ExpectedMode, expectMode } from "./expect-mode.js";
import { findShortfalls } from "./find-shortfalls.js";
import type { RecordingMode } from "./mode-types.js";
import type { PlannedMode, PlannedModes } from "./plan-types.js";
import { PlannerError } from "./planner-error.js";
import { missesMore, relaxAdvice } from "./relax-advice.js";
import type { PlanRequest } from "./request-types.js";
import { widthCostsRate } from "./width-costs-rate.js";

/** Holds recording modes against what is wanted: what each would give, which limits it misses, and which is best. Modes that meet every
 *  limit come first, the surest speed foremost (by light and geometry, where the step to noise is not known); then the
 *  others, those that miss the least foremost.
 *  @param modes  at least one
 *  @throws PlannerError `modes-empty`, `invalid-value`, `speed-range-reversed`, `reference-missing`, `noise-unknown`,
 *    `memory-missing`, `bits-missing` */
export function planModes(modes: readonly RecordingMode[], request: PlanRequest): PlannedModes {
  if (modes.length === 0)
    throw new PlannerError("modes-empty", "there must be at least one recording mode, got none");
  checkRequest(request);
  const ranked = modes
    .map((mode) => judge(expectMode(mode, request), request))
    .sort((a, b) => compare(a, b))
    .map(({ planned }) => planned);
  const chosen = ranked[0].meets ? 0 : null;
  return {
    modes: ranked,
    chosen,
    predictedFrom: predictedFrom(request),
    relax: chosen === null ? relaxAdvice(ranked) : null,
    widthCostsRate: widthCostsRate(modes),
  };
}

interface Judged {
  readonly planned: PlannedMode;
  readonly rankingUncertainty: number;
}

function judge(expected: ExpectedMode, request: PlanRequest): Judged {
  const { figures, details, rankingUncertainty } = expected;
  const shortfalls = findShortfalls(expected, request);
  const reasons = shortfalls.map(({ reason }) => reason);
  // In the order of the keys of plan.json.
  const planned = { ...figures, meets: reasons.length === 0, reasons, ...details, shortfalls };
  return { planned, rankingUncertainty };
}

function compare(a: Judged, b: Judged): number {
  if (a.planned.meets !== b.planned.meets) return a.planned.meets ? -1 : 1;
  if (!a.planned.meets)
    return missesMore(a.planned, b.planned) ? 1 : missesMore(b.planned, a.planned) ? -1 : 0;
  return a.rankingUncertainty - b.rankingUncertainty;
}

function predictedFrom({ earlier }: PlanRequest): string[] {
  const known = [
    ["wander", earlier?.relativeWander],
    ["scale", earlier?.relativeScale],
    ["rate", earlier?.relativeRate],
  ] as const;
  return ["image noise", ...known.flatMap(([name, value]) => (value == null ? [] : [name]))];
}

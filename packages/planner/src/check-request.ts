import { PlannerError } from "./planner-error.js";
import type { PlanRequest } from "./request-types.js";

/** Keys that must be numbers > 0 where they are given. */
const POSITIVE = [
  "lengthMetres",
  "metresPerPixel",
  "blurPixels",
  "exposureSeconds",
  "exposureFraction",
  "memoryBytes",
  "memorySeconds",
  "playbackHz",
  "goodExposureSeconds",
  "relativeLight",
  "stepToNoise",
  "edgeBlurPixels",
  "relativeUncertainty",
] as const;

/** Holds the parts of a request against each other.
 *  @throws PlannerError `invalid-value`, `speed-range-reversed`, `reference-missing`, `noise-unknown`, `memory-missing` */
export function checkRequest(request: PlanRequest): void {
  const { low, high } = request.speedMetresPerSecond;
  for (const value of [low, high])
    if (!(value > 0 && Number.isFinite(value)))
      throw invalid("speedMetresPerSecond", "finite and > 0", value);
  if (low > high)
    throw new PlannerError(
      "speed-range-reversed",
      `the range of speeds must run from the slower to the faster, got ${low} to ${high} m/s: turn it round`,
      { key: "speedMetresPerSecond", value: [low, high] },
    );
  for (const key of POSITIVE) {
    const value = request[key];
    if (value !== undefined && !(value > 0 && Number.isFinite(value)))
      throw invalid(key, "finite and > 0", value);
  }
  atLeast(request, "framesAcross", 3, "with fewer a speed is bounded, not measured");
  atLeast(request, "widthPixels", 1);
  atLeast(request, "reactionSeconds", 0);
  atLeast(request, "stopsLost", 0);
  if ((request.exposureFraction ?? 0) > 1)
    throw invalid(
      "exposureFraction",
      "at most 1: a frame cannot collect light for longer than its interval",
      request.exposureFraction,
    );
  exclude(request, "exposureSeconds", "exposureFraction");
  exclude(request, "memoryBytes", "memorySeconds");
  for (const key of ["stopsLost", "stepToNoise", "relativeLight"] as const)
    if (request[key] !== undefined && request.goodExposureSeconds === undefined)
      throw new PlannerError(
        "reference-missing",
        `${key} is counted from a good exposure, and none is given: give goodExposureSeconds, the exposure at which it held`,
        { key },
      );
  refuseUntold(request);
}

/** A limit that nothing given lets be judged would reject no mode, and seem to be met. */
function refuseUntold(request: PlanRequest): void {
  const { relativeUncertainty, stepToNoise, reactionSeconds, memoryBytes, memorySeconds } = request;
  if (relativeUncertainty !== undefined && stepToNoise === undefined)
    throw new PlannerError(
      "noise-unknown",
      "relativeUncertainty is wanted, and the noise is not known: give stepToNoise with goodExposureSeconds",
      { key: "relativeUncertainty", value: relativeUncertainty },
    );
  if (reactionSeconds !== undefined && memoryBytes === undefined && memorySeconds === undefined)
    throw new PlannerError(
      "memory-missing",
      "reactionSeconds places the trigger in the memory, and its size is not known: give memoryBytes or memorySeconds",
      { key: "reactionSeconds", value: reactionSeconds },
    );
}

function atLeast(
  request: PlanRequest,
  key: "framesAcross" | "widthPixels" | "reactionSeconds" | "stopsLost",
  least: number,
  why?: string,
): void {
  const value = request[key];
  if (value === undefined || (value >= least && Number.isFinite(value))) return;
  throw invalid(key, `finite and >= ${least}${why ? ` (${why})` : ""}`, value);
}

function exclude(request: PlanRequest, one: keyof PlanRequest, other: keyof PlanRequest): void {
  if (request[one] === undefined || request[other] === undefined) return;
  throw new PlannerError("invalid-value", `${one} and ${other} exclude each other, got both: give one`, {
    key: other,
  });
}

function invalid(key: string, rule: string, value: unknown): PlannerError {
  return new PlannerError("invalid-value", `${key} must be ${rule}, got ${value}`, { key, value });
}

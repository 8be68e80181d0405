import { checkSameTake } from "./check-same-take.js";
import { compareQuantity, type Observation } from "./compare-quantity.js";
import { fourDigits } from "./four-digits.js";
import type { ComparedQuantity, Comparison, ObservedTake, PlanCompared, SpeedRange } from "./types.js";

/** What a prediction of noise and uncertainty is good to, relative: how it compares with rendered takes. */
const PREDICTION = 0.3;
/** A front is seen in one frame more or less, by the moment at which it enters. */
const FRAMES = 1;
/** Frames that place a front at least where its speed is measured. */
const FEWEST_FRAMES = 3;
/** Rate, exposure and scale that differ by less are what was set. */
const AS_SET = 0.01;

type Measured = Extract<ObservedTake["outcome"], { status: "measured" }>;

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

/** What the operator sets, and was set; null where the take does not say. */
export type Settings = Readonly<
  Record<"columns" | "rows" | "rateHz" | "exposureSeconds" | "metresPerPixel", number | null>
>;

/** What the operator sets: the mode, its exposure and scale. A cropped picture does no harm by itself. */
export function compareSettings(
  { mode }: Pick<PlanCompared, "mode">,
  observed: Settings,
): ComparedQuantity[] {
  const set = (quantity: keyof typeof UNITS, harmful: Observation["harmful"], because: string) =>
    compareQuantity({
      quantity,
      planned: exactly(mode[quantity]),
      observed: observed[quantity],
      allowance: mode[quantity] * (quantity === "columns" || quantity === "rows" ? 0 : AS_SET),
      harmful,
      because,
      next: `set ${fourDigits(mode[quantity])} ${UNITS[quantity]}, or plan with what was set`,
    });
  return [
    set("columns", "neither", "another mode was set, or the frames were cropped"),
    set("rows", "neither", "another mode was set, or the frames were cropped"),
    set("rateHz", "less", "another rate was set"),
    set("exposureSeconds", "more", "another exposure was set"),
    set("metresPerPixel", "less", "nearer, or a longer lens: the picture shows less of the way"),
  ];
}

const UNITS = {
  columns: "columns",
  rows: "rows",
  rateHz: "frames/s",
  exposureSeconds: "s of exposure",
  metresPerPixel: "m a pixel",
} as const;

/** What the take showed. */
function asSeen(plan: PlanCompared, observed: ObservedTake): ComparedQuantity[] {
  const { outcome } = observed;
  if (outcome.status === "measured") return ofMeasured(plan, observed, outcome);
  if (outcome.status === "bounded") return ofBounded(plan, observed, outcome);
  const lost = { observed: null, allowance: null, harmful: "either" as const, unknown: outcome.message };
  return [compareQuantity({ ...lost, quantity: "speed", planned: plan.request.speedMetresPerSecond })];
}

function ofMeasured(plan: PlanCompared, observed: ObservedTake, outcome: Measured): ComparedQuantity[] {
  const { request, mode } = plan;
  const { speed, expandedUncertainty, framesUsed, stepToNoise } = outcome;
  const { rateHz, metresPerPixel, exposureSeconds } = observed;
  const relative = expandedUncertainty / speed;
  const pixelsPerFrame = speed / (rateHz * metresPerPixel);
  const blur = exposureSeconds === null ? null : (speed * exposureSeconds) / metresPerPixel;
  const uncertainty = uncertaintyOf(plan.predictedFrom, outcome);
  const limit = request.blurPixels ?? mode.blurPixels;
  return [
    compareQuantity({
      quantity: "speed",
      planned: request.speedMetresPerSecond,
      observed: speed,
      allowance: expandedUncertainty,
      harmful: "either",
      because: "the front ran at another speed than expected",
      next: `plan with ${fourDigits(speed)} m/s`,
    }),
    compareQuantity({
      quantity: "framesAcross",
      planned: overSpeeds(plan, mode.framesAcross, "falls"),
      observed: framesUsed,
      allowance: FRAMES,
      harmful: "less",
      because: whyFewer(plan, observed, outcome),
      next: `record ${fourDigits((mode.framesAcross * speed) / request.lengthMetres)} frames/s for ${fourDigits(mode.framesAcross)} frames over ${fourDigits(request.lengthMetres)} m`,
    }),
    compareQuantity({
      quantity: "pixelsPerFrame",
      planned: overSpeeds(plan, mode.pixelsPerFrame, "grows"),
      observed: pixelsPerFrame,
      allowance: relative * pixelsPerFrame,
      harmful: "more",
      because: "the front was faster, the rate lower or a pixel shorter than planned",
    }),
    compareQuantity({
      quantity: "blurPixels",
      planned: overSpeeds(plan, mode.blurPixels, "grows"),
      observed: blur,
      allowance: blur === null ? null : relative * blur,
      harmful: "more",
      because: "the front was faster, the exposure longer or a pixel shorter than planned",
      next: `expose for ${fourDigits((limit * metresPerPixel) / speed)} s at most`,
      unknown: "the exposure of the take is not stated: give --exposure to measure",
    }),
    compareQuantity({
      quantity: "stepToNoise",
      planned: mode.stepToNoise === null ? null : within(mode.stepToNoise),
      observed: stepToNoise,
      allowance: 0,
      harmful: "less",
      because: "less light, or a fainter front, than planned",
      next: lightFor(mode.stepToNoise, stepToNoise),
    }),
    compareQuantity({
      quantity: "relativeUncertainty",
      planned: mode.predictedRelativeUncertainty === null ? null : within(mode.predictedRelativeUncertainty),
      observed: uncertainty.total,
      allowance: 0,
      harmful: "more",
      because: `most of it is ${uncertainty.largest}`,
      next: `reduce the ${uncertainty.largest}, or plan with this result (--earlier)`,
    }),
  ];
}

function ofBounded(
  plan: PlanCompared,
  observed: ObservedTake,
  outcome: Extract<ObservedTake["outcome"], { status: "bounded" }>,
): ComparedQuantity[] {
  const { lowerBound, frames } = outcome;
  const rate = fourDigits(lowestRate(observed, outcome));
  const { speedMetresPerSecond: speed } = plan.request;
  const faster = lowerBound > speed.high;
  return [
    compareQuantity({
      quantity: "speed",
      planned: speed,
      observed: faster ? lowerBound : null,
      allowance: 0,
      harmful: "either",
      because: "the front ran at least so fast",
      next: `plan with ${fourDigits(lowerBound)} m/s or more`,
      unknown: `only bounded: at least ${fourDigits(lowerBound)} m/s, which does not contradict the plan`,
    }),
    compareQuantity({
      quantity: "framesAcross",
      planned: overSpeeds(plan, plan.mode.framesAcross, "falls"),
      observed: frames,
      allowance: FRAMES,
      harmful: "less",
      because: "the front crossed too fast to follow",
      next: `record ${rate} frames/s or more: then ${FEWEST_FRAMES} frames see a front that runs at the bound, and it may be faster`,
    }),
  ];
}

/** Rate at which a front at the bound is in three frames of the path it was seen to cross. */
function lowestRate(
  { metresPerPixel }: ObservedTake,
  { lowerBound, crossedPixels }: Extract<ObservedTake["outcome"], { status: "bounded" }>,
): number {
  return (FEWEST_FRAMES * lowerBound) / (crossedPixels * metresPerPixel);
}

function exactly(value: number): SpeedRange {
  return { low: value, high: value };
}

/** A predicted value with what predictions are good to. */
function within(value: number): SpeedRange {
  return { low: value / (1 + PREDICTION), high: value * (1 + PREDICTION) };
}

/** A figure given for the fastest expected speed, over the range of speeds. */
function overSpeeds({ request }: PlanCompared, atFastest: number, how: "grows" | "falls"): SpeedRange {
  const { low, high } = request.speedMetresPerSecond;
  return how === "grows"
    ? { low: (atFastest * low) / high, high: atFastest }
    : { low: atFastest, high: (atFastest * high) / low };
}

/** Standard uncertainty by the sources that a prediction holds, relative, and the largest of them. Noise of the image shows as fit and
 *  as wander: the two are shares of one estimate. */
function uncertaintyOf(
  predictedFrom: readonly string[],
  { relativeUncertainties }: Measured,
): { readonly total: number; readonly largest: string } {
  const sources = predictedFrom.flatMap((source) =>
    source === "image noise" ? ["fit", "wander"] : [source],
  );
  const held = relativeUncertainties.filter(({ source }) => sources.includes(source));
  const largest = held.reduce((most, line) => (line.relative > most.relative ? line : most), held[0]);
  return { total: Math.hypot(...held.map(({ relative }) => relative)), largest: largest?.source ?? "fit" };
}

function whyFewer(
  { request, mode }: PlanCompared,
  { rateHz, metresPerPixel }: ObservedTake,
  { speed, pathPixels }: Measured,
): string {
  const path = pathPixels * metresPerPixel;
  const reasons = [
    speed > request.speedMetresPerSecond.high ? "the front was faster" : null,
    rateHz < mode.rateHz * (1 - AS_SET) ? "the rate was lower" : null,
    path < request.lengthMetres * (1 - AS_SET)
      ? `the path followed is ${fourDigits(path)} m of ${fourDigits(request.lengthMetres)} m`
      : null,
  ].filter((reason) => reason !== null);
  return reasons.length > 0
    ? reasons.join(", ")
    : "frames are missing or were rejected, or the front was not seen over the whole path";
}

/** Light that would give the planned step to noise, where shot noise rules. */
function lightFor(planned: number | null, observed: number | null): string {
  if (planned === null || observed === null || observed === 0) return "give more light";
  return `give ${fourDigits((planned / observed) ** 2)} times the light`;
}

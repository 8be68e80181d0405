import { compareQuantity } from "./compare-quantity.js";
import type { ComparedQuantity, ObservedTake, PlanCompared } from "./comparison-types.js";
import { expectedFrom } from "./expected-from.js";
import { fourDigits } from "./four-digits.js";
import { AS_SET, FRAMES, overSpeeds, within } from "./planned-range.js";
import { predictionLabel } from "./prediction-label.js";

type Measured = Extract<ObservedTake["outcome"], { status: "measured" }>;

/** What a take with a measured speed showed, against its plan. */
export function compareMeasured(
  plan: PlanCompared,
  observed: ObservedTake,
  outcome: Measured,
): ComparedQuantity[] {
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
      because: `the front ran at another speed than expected${expectedFrom(plan)}`,
      next: `plan with ${fourDigits(speed)} m/s`,
    }),
    compareQuantity({
      quantity: "framesAcross",
      planned: overSpeeds(plan, mode.framesAcross, "falls"),
      observed: framesUsed,
      allowance: FRAMES,
      harmful: "less",
      because: whyFewer(plan, observed, outcome),
      next: moreFrames(plan, observed, speed),
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
      label: predictionLabel(plan.predictedFrom),
      planned: mode.predictedRelativeUncertainty === null ? null : within(mode.predictedRelativeUncertainty),
      observed: uncertainty.total,
      allowance: 0,
      harmful: "more",
      because: `most of it is ${uncertainty.largest}${isPlanned(uncertainty.largest, plan.predictedFrom) ? "" : ", which the plan does not hold"}`,
      next: `reduce the ${uncertainty.largest}, or plan with this result (--earlier)`,
    }),
  ];
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

/** Whether a plan holds a source of uncertainty; noise of the image is the least that fit comes to. */
function isPlanned(source: string, predictedFrom: readonly string[]): boolean {
  return source === "fit" || predictedFrom.includes(source);
}

function whyFewer(
  { request, mode }: PlanCompared,
  { rateHz, metresPerPixel }: ObservedTake,
  { speed, expandedUncertainty, pathPixels }: Measured,
): string {
  const path = pathPixels * metresPerPixel;
  const reasons = [
    speed - expandedUncertainty > request.speedMetresPerSecond.high ? "the front was faster" : null,
    rateHz < mode.rateHz * (1 - AS_SET) ? "the rate was lower" : null,
    path < request.lengthMetres * (1 - AS_SET)
      ? `the path followed is ${fourDigits(path)} m of ${fourDigits(request.lengthMetres)} m`
      : null,
  ].filter((reason) => reason !== null);
  return reasons.length > 0
    ? reasons.join(", ")
    : "frames are missing or were rejected, or the front was not seen over the whole path";
}

/** What to set for the frames that were planned. */
function moreFrames({ request, mode }: PlanCompared, { rateHz }: ObservedTake, speed: number): string {
  const needed = (mode.framesAcross * speed) / request.lengthMetres;
  return needed > rateHz * (1 + AS_SET)
    ? `record ${fourDigits(needed)} frames/s for ${fourDigits(mode.framesAcross)} frames over ${fourDigits(request.lengthMetres)} m`
    : `the rate was enough for ${fourDigits(mode.framesAcross)} frames: lay the path over ${fourDigits(request.lengthMetres)} m (--path), and look in track.csv which frames were not used`;
}

/** Light that would give the planned step to noise, where shot noise rules. */
function lightFor(planned: number | null, observed: number | null): string {
  if (planned === null || observed === null || observed === 0) return "give more light";
  return `give ${fourDigits((planned / observed) ** 2)} times the light`;
}

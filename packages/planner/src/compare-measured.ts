import { compareQuantity } from "./compare-quantity.js";
import type { ComparedQuantity, ObservedTake, PlanCompared } from "./comparison-types.js";
import { expectedFrom } from "./expected-from.js";
import { fourDigits, framesText, lengthText, noLess, noMore, timeText } from "./four-digits.js";
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
  const isWithinLimit = request.blurPixels !== undefined && blur !== null && blur <= limit;
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
      // A limit that was asked for is what counts, not that the plan would have kept farther below it.
      harmful: isWithinLimit ? "neither" : "more",
      because: isWithinLimit
        ? `the limit of ${fourDigits(limit)} px that was asked for is kept`
        : "the front was faster, the exposure longer or a pixel shorter than planned",
      next: `expose for ${timeText((limit * metresPerPixel) / speed, noMore)} at most`,
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
      because: `most of it is ${IN_WORDS[uncertainty.largest] ?? uncertainty.largest}${isPlanned(uncertainty.largest, plan.predictedFrom) ? "" : ", which the plan does not hold"}`,
      next: `${LESS[uncertainty.largest] ?? `reduce the ${uncertainty.largest}`}, or plan with this result (--earlier)`,
    }),
  ];
}

/** Sources whose names alone say too little. */
const IN_WORDS: Readonly<Record<string, string>> = {
  fit: "fit, the noise of the picture",
  wander: "wander, the front's own uneven way",
};

/** What makes a source of uncertainty smaller. */
const LESS: Readonly<Record<string, string>> = {
  fit: "give more light, or more frames across",
  wander:
    "follow the front over a longer path or average over more of its width, for more light does not help",
  scale: "set the scale with frontpace calibrate and a better standard",
  rate: "measure the rate with frontpace check --clock",
};

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
  const short = request.lengthMetres - path;
  const reasons = [
    speed - expandedUncertainty > request.speedMetresPerSecond.high ? "the front was faster" : null,
    rateHz < mode.rateHz * (1 - AS_SET) ? "the rate was lower" : null,
    // A path shorter by less than the front's step from frame to frame costs no frame.
    short > Math.max(AS_SET * request.lengthMetres, (FRAMES * speed) / rateHz)
      ? `the path followed is ${lengthText(path)} of ${lengthText(request.lengthMetres)}`
      : null,
  ].filter((reason) => reason !== null);
  return reasons.length > 0
    ? reasons.join(", ")
    : "frames are missing or were rejected, or the front was not seen over the whole path";
}

/** What to set for the frames that were planned. */
function moreFrames({ request, mode }: PlanCompared, observed: ObservedTake, speed: number): string {
  const { rateHz, columns, rows, metresPerPixel } = observed;
  const needed = (mode.framesAcross * speed) / request.lengthMetres;
  const frames = `${framesText(mode.framesAcross)} frames`;
  const length = lengthText(request.lengthMetres);
  if (needed > rateHz * (1 + AS_SET)) return `record ${noLess(needed)} frames/s for ${frames} over ${length}`;
  const shown = Math.hypot(columns, rows) * metresPerPixel;
  return shown < request.lengthMetres * (1 - AS_SET)
    ? `show ${length} of the way, of which the picture has ${lengthText(shown)}: set ${mode.columns} x ${mode.rows} px, or a coarser scale`
    : `the rate was enough for ${frames}: lay the path over ${length} (--path), and look in track.csv which frames were not used`;
}

/** Light that would give the planned step to noise, where shot noise rules. */
function lightFor(planned: number | null, observed: number | null): string {
  if (planned === null || observed === null || observed === 0) return "give more light";
  return `give ${fourDigits((planned / observed) ** 2)} times the light, for step to noise grows with its square root, or plan with a step to noise of ${fourDigits(observed)}`;
}

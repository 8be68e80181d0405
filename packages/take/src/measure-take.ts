import { checkSameTake, findMaterial, wavesIn } from "@frontpace/planner";
import type { Streak } from "@frontpace/tracker";
import { cracksInPlane } from "./following/cracks-in-plane.js";
import { frontInPlane } from "./following/front-in-plane.js";
import { limbOf } from "./following/limb-of.js";
import { mapInPlane } from "./following/map-in-plane.js";
import { trackAlong } from "./following/track-along.js";
import { eventPictures } from "./footage/event-pictures.js";
import { finiteSamples } from "./footage/finite-samples.js";
import { hashSamples } from "./footage/hash-samples.js";
import { throttleProgress } from "./footage/throttle-progress.js";
import { withTake } from "./footage/with-take.js";
import type { CalibratedPath } from "./path/calibrated-path.js";
import { branchRecord } from "./result/branch-record.js";
import { eventFrames } from "./result/event-frames.js";
import { notMeasured } from "./result/not-measured.js";
import { shapeRecord } from "./result/shape-record.js";
import { tipRows } from "./result/tip-rows.js";
import { withAir } from "./result/with-air.js";
import { withBranches } from "./result/with-branches.js";
import { streakRecord, withEvidence } from "./result/with-evidence.js";
import { withMap } from "./result/with-map.js";
import { withMaterial } from "./result/with-material.js";
import { withPlan } from "./result/with-plan.js";
import { withShape } from "./result/with-shape.js";
import { withoutDistance } from "./result/without-distance.js";
import { checkOptions } from "./schemas/check-keys.js";
import { type ChosenFrames, chooseFewer, chooseFrames } from "./search/choose-frames.js";
import { calibrationOf } from "./settings/calibration-of.js";
import { checkAgainstFrames } from "./settings/check-against-frames.js";
import { checkCalibration } from "./settings/check-calibration.js";
import { planOfTake } from "./settings/plan-of-take.js";
import { type Settings, settle } from "./settings/settle.js";
import { timeFramesOf, timestampsOf } from "./settings/timestamps.js";
import type { MeasureContext, Measurement, MeasureOptions, PlanFile, TakeFrames } from "./types.js";

/** Why no front is found where what comes long before or after hides it. */
const MAY_BE_HIDDEN = new Set(["no-change", "no-edge", "no-propagation-seen", "not-resolved"]);

/** Measures one take: from its frames to a speed with its uncertainty.
 *
 *  What the take is comes from `options` and from the take.json in its folder, or NAME.take.json beside its file; options win. An uncertainty
 *  in take.json does not survive a rate or scale given in the options.
 *
 *  A take of more than 2,000 frames of which neither a first nor a last frame is asked for is searched, and measured about
 *  its strongest event; so is a shorter one that shows no front as a whole.
 *
 *  @param take  a folder of numbered stills, a file that holds frames, or an open sequence, which stays open
 *  @returns one of three outcomes, `result.status` measured, bounded or not-found; none of them is an error
 *  @throws TakeError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped
 *  @see JCGM 100:2008 for the uncertainty */
export async function measureTake(
  take: string | { readonly frames: TakeFrames },
  options: MeasureOptions = {},
  context: MeasureContext = {},
): Promise<Measurement> {
  const { signal } = context;
  signal?.throwIfAborted();
  const checked = await checkOptions(options);
  const named = typeof take === "string" ? take : null;
  return withTake(take, checked, context, async (frames, file) => {
    const scale = await calibrationOf(checked, file, named ?? "");
    return measureFrames(
      frames,
      settle(checked, file, scale, await timestampsOf(checked, file, named ?? "")),
      await planOfTake(named, checked, file),
      context,
    );
  });
}

async function measureFrames(
  frames: TakeFrames,
  settings: Settings,
  plan: PlanFile | null,
  context: MeasureContext,
): Promise<Measurement> {
  if (settings.material !== null) wavesIn(findMaterial(settings.material));
  if (plan) checkSameTake(plan, frames.name);
  const asked = checkAgainstFrames(settings, frames);
  if (settings.calibration) checkCalibration(settings.calibration, frames);
  const { signal } = context;
  const chosen = await followChosen(
    frames,
    settings,
    await chooseFrames(frames, settings, asked, context),
    context,
  );
  const { range, search, notFound, hash, part, inCracks, inPlane, outcome, kept } =
    (await followFewer(frames, settings, chosen, context)) ?? chosen;
  signal?.throwIfAborted();

  const { assembleResult } = await import("./result/assemble-result.js");
  const { name, rows, columns, bitDepth } = frames;
  const warnings = frames.warningsWithin?.(range) ?? frames.warnings ?? [];
  const numbers = frames.numbers.slice(range.start, range.end);
  const framesUsed = { name, numbers, rows, columns, bitDepth, hash, part, warnings };
  const calibrated = await calibratedBy(settings, outcome.streak.path);
  const radius = inPlane?.along.kind === "radius" ? inPlane.along : null;
  const origin = radius?.origin ?? null;
  const { metresPerPixel } = calibrated ?? settings;
  const limb = limbOf(radius, outcome.streak.path, settings, metresPerPixel.value);
  const assembled = assembleResult(outcome, settings, framesUsed, {
    search,
    calibrated,
    origin,
    // Of a circle whose speed changes a constant speed says nothing.
    model: radius?.varying ? "auto" : null,
    limb,
  });
  const { material } = settings;
  const ofMaterial = material === null ? assembled.result : withMaterial(assembled.result, material);
  const { airTemperatureKelvin: air } = settings;
  const inAir = air === null ? ofMaterial : withAir(ofMaterial, air);
  const inShape = inPlane ? withShape(inAir, shapeRecord(inPlane, settings)) : inAir;
  const cracks = inCracks?.cracks ?? [];
  const inBranches = cracks.length > 0 ? withBranches(inShape, branchRecord(cracks, settings)) : inShape;
  const inDistance = limb ? inBranches : withoutDistance(inBranches, settings);
  const inMap = withMap(inDistance, kept.picture, kept.refused);
  const line = outcome.status === "tracked" ? outcome.track.line : null;
  const tips = tipRows(cracks, settings);
  const channel = outcome.status === "tracked" ? outcome.track.channel : "brightness";
  const event = notFound
    ? undefined
    : eventFrames({ outcome, numbers, radius, tips, branches: cracks.length }, settings);
  const shown = withEvidence(inMap, {
    ...assembled.evidence,
    ...streakRecord(outcome.streak, channel),
    ...(event && { event }),
  });
  return {
    result: plan === null ? shown : withPlan(shown, plan),
    track: assembled.track,
    cracks:
      inCracks && cracks.length > 0
        ? { courses: cracks.map(({ course }) => course), data: inCracks.last, shape: [rows, columns] }
        : null,
    tips,
    arrival: kept.picture,
    line: line && { interceptPixels: line.interceptPixels, slopePixelsPerFrame: line.slopePixelsPerFrame },
    course: assembled.course,
    lineInPicture: assembled.lineInPicture,
    streak: outcome.streak,
    search,
    eventPictures: event && context.eventPictures ? await eventPictures(frames, event, signal) : [],
  };
}

/** What was followed in the frames that were chosen, and what these are. */
type Followed = Awaited<ReturnType<typeof followChosen>>;

async function followChosen(
  frames: TakeFrames,
  settings: Settings,
  chosen: ChosenFrames,
  context: MeasureContext,
) {
  const { range, notFound } = chosen;
  const { hashed, digest, part } = hashSamples(frames);
  const { timestamps, rateHz } = settings;
  const timed = timestamps ? { ...hashed, timeFrames: timeFramesOf(timestamps, rateHz.value) } : hashed;
  const inCracks = notFound ? null : await cracksInPlane(frames, timed, settings, range, context);
  const shaped =
    notFound || inCracks
      ? null
      : await finiteSamples(frontInPlane(frames, settings, range, throttled(context)));
  const { outcome, inPlane } = notFound
    ? { outcome: notMeasured(frames, settings, notFound), inPlane: null }
    : inCracks
      ? { outcome: inCracks.outcome, inPlane: null }
      : await trackAlong(shaped, timed, settings, range, context);
  const kept = notFound
    ? { picture: null, refused: settings.map ? notFound.message : null }
    : await mapInPlane(frames, settings, range, inPlane, throttled(context));
  return { ...chosen, hash: digest(), part: part(), inCracks, inPlane, outcome, kept };
}

/** A front that all frames do not show, because what comes long after it hides it, followed in those about the strongest event.
 *  @returns null where they show none, either */
async function followFewer(
  frames: TakeFrames,
  settings: Settings,
  before: Followed,
  context: MeasureContext,
): Promise<Followed | null> {
  const { outcome } = before;
  if (outcome.status !== "not-found" || !MAY_BE_HIDDEN.has(outcome.reason)) return null;
  const fewer = await chooseFewer(frames, settings, before, context);
  const followed = fewer && (await followChosen(frames, settings, fewer, context));
  return followed?.outcome.status === "tracked" ? followed : null;
}

function throttled({ signal, onProgress }: MeasureContext): MeasureContext {
  return { ...(signal && { signal }), ...(onProgress && { onProgress: throttleProgress(onProgress) }) };
}

/** What the calibration says of a path; it is loaded where there is one. */
async function calibratedBy({ calibration }: Settings, path: Streak["path"]): Promise<CalibratedPath | null> {
  if (!calibration) return null;
  const { calibratedPath } = await import("./path/calibrated-path.js");
  return calibratedPath(calibration, path);
}

import { checkSameTake, findMaterial, wavesIn } from "@frontpace/planner";
import type { Streak } from "@frontpace/tracker";
import { followTake } from "./following/follow-take.js";
import { limbOf } from "./following/limb-of.js";
import { eventPictures } from "./footage/event-pictures.js";
import { withTake } from "./footage/with-take.js";
import type { CalibratedPath } from "./path/calibrated-path.js";
import { branchRecord } from "./result/branch-record.js";
import { eventFrames } from "./result/event-frames.js";
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
import { calibrationOf } from "./settings/calibration-of.js";
import { checkAgainstFrames } from "./settings/check-against-frames.js";
import { checkCalibration } from "./settings/check-calibration.js";
import { planOfTake } from "./settings/plan-of-take.js";
import { type Settings, settle } from "./settings/settle.js";
import { timestampsOf } from "./settings/timestamps.js";
import type { MeasureContext, Measurement, MeasureOptions, PlanFile, TakeFrames } from "./types.js";

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
  const followed = await followTake(frames, settings, asked, context);
  const { range, search, notFound, hash, part, inCracks, inPlane, outcome, kept } = followed;
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
  const rigid = inPlane?.along.kind === "form" ? inPlane.along.rigid : null;
  const form = rigid && { lagPixels: rigid.lagPixels, middle: [(columns - 1) / 2, (rows - 1) / 2] as const };
  const assembled = assembleResult(outcome, settings, framesUsed, {
    search,
    calibrated,
    origin,
    // Of a circle whose speed changes a constant speed says nothing.
    model: radius?.varying ? "auto" : null,
    limb,
    rigid,
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
    : eventFrames({ outcome, numbers, radius, form, tips, branches: cracks.length }, settings);
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

/** What the calibration says of a path; it is loaded where there is one. */
async function calibratedBy({ calibration }: Settings, path: Streak["path"]): Promise<CalibratedPath | null> {
  if (!calibration) return null;
  const { calibratedPath } = await import("./path/calibrated-path.js");
  return calibratedPath(calibration, path);
}

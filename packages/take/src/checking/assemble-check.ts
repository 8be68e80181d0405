import type { EdgeOnPath } from "@frontpace/calibration";
import {
  type CheckLine,
  type ClockFacts,
  checkClock,
  checkDrift,
  checkExposure,
  checkFocus,
  checkFrames,
  checkLight,
  checkMode,
  checkNoise,
  checkPattern,
  clockedRate,
  isNoiseAlike,
  pixelPattern,
} from "@frontpace/checker";
import { compareSettings } from "@frontpace/planner";
import type { Footage, ShiftOfFootage } from "@frontpace/tracker";
import { programVersion } from "../files/program-version.js";
import { meanPicture } from "../footage/frame-samples.js";
import { assertFinite } from "../schemas/assert-finite.js";
import type { DryCheckOptions, PlanFile, TakeCheck, TakeFrames, TakeWarning } from "../types.js";
import { lightFacts } from "./light-facts.js";
import type { ReferenceStill } from "./reference-still.js";

/** What was seen, and what it is held against. */
export interface CheckParts {
  readonly frames: TakeFrames;
  /** Joined with take.json. */
  readonly options: DryCheckOptions;
  readonly plan: PlanFile | null;
  readonly footage: Footage;
  /** The first frames, row-major, shape (rows · columns,) each; one or more. */
  readonly pictures: readonly Float64Array[];
  readonly clock: ClockFacts | null;
  readonly reference: ReferenceStill | null;
}

/** check.json, keys in the order of the file.
 *  @throws TakeError `not-finite`: a fault of the program */
export async function assembleCheck(parts: CheckParts): Promise<TakeCheck> {
  const { frames, options, footage, reference } = parts;
  const lines = await linesOf(parts);
  const clock = isOfCamera(footage) ? parts.clock : null;
  const rate = clock && clockedRate(clock);
  const { frameNumbers, path } = footage;
  const check: TakeCheck = {
    format: "frontpace-check",
    version: 1,
    program: { name: "frontpace", version: programVersion },
    passed: lines.every(({ verdict }) => verdict !== "warn"),
    lines: lines.map(({ check: name, verdict, message, advice, values }) => ({
      check: name,
      verdict,
      message,
      advice,
      values: { ...values },
    })),
    clock: clock &&
      rate && {
        rateHz: rate.rateHz,
        rateUncertaintyHz: rate.rateUncertaintyHz,
        readingUncertaintyHz: rate.readingUncertaintyHz,
        degreesOfFreedom: rate.degreesOfFreedom,
        lampHz: clock.lampHz,
        lampUncertaintyHz: clock.lampUncertaintyHz,
        frames: clock.frames,
      },
    take: {
      name: frames.name,
      rows: frames.rows,
      columns: frames.columns,
      bitDepth: frames.bitDepth,
      frames: frameNumbers.length,
      firstFrame: frameNumbers[0],
      lastFrame: frameNumbers[frameNumbers.length - 1],
      rateHz: options.rateHz ?? null,
      exposureSeconds: options.exposureSeconds ?? null,
      path: [
        [path[0][0], path[0][1]],
        [path[1][0], path[1][1]],
      ],
      width: footage.width,
    },
    reference: reference && { file: reference.file, frame: reference.frame, sha256: reference.sha256 },
    warnings: [...(frames.warnings ?? []), ...planOfAnother(parts)].map(({ code, message }) => ({
      code,
      message,
    })),
    cautions: [],
  };
  assertFinite(check, "check");
  return check;
}

/** A dry run often has a name of its own; a still has none of a take. */
function planOfAnother({ plan, frames }: CheckParts): TakeWarning[] {
  if (!plan || plan.take === null || plan.take === frames.name || frames.numbers.length === 1) return [];
  const message = `the plan was made for the take ${plan.take}, and this one is ${frames.name}: right for a dry run before ${plan.take}; for another event name its own plan`;
  return [{ code: "plan-of-another-take", message }];
}

async function linesOf(parts: CheckParts): Promise<CheckLine[]> {
  const { frames, options, plan, footage, pictures, clock } = parts;
  const { rows, columns } = frames;
  const { path, width, effectiveRows, brightest, white, clippedShare, shift } = footage;
  const { edgesAlong, noiseOf } = await import("@frontpace/calibration");
  const picture = { data: meanPicture(pictures), rows, columns };
  const isOfStill = frames.numbers.length === 1;
  const ofStill = () => {
    const pixel = noiseOf(picture);
    return { pixel, sample: pixel / Math.sqrt(width) };
  };
  const planned = plan?.request.edgeBlurPixels;
  const change = pictures.length > 1 ? pictures[1].map((value, at) => value - pictures[0][at]) : null;
  const light = isOfStill ? null : lightFacts(footage, options.rateHz ?? null);
  const isClipped = clippedShare > MOST_CLIPPED;
  const clipped = (what: string) =>
    `${Number((100 * clippedShare).toPrecision(3))} % of the samples along the path stand at white or at 0, and ${what} does not show in them: expose otherwise, and check again`;
  const lightLine = () => {
    if (isOfStill) return untold("light", "one still does not tell how the light varies");
    if (isClipped) return untold("light", clipped("light that varies"));
    if (!light) return untold("light", "the picture is dark");
    return light.isShared ? checkLight(light) : (otherCause ?? checkLight(light));
  };
  const pattern = checkPattern({
    pattern: pixelPattern(pictures[0], change, rows, columns),
    width,
    effectiveRows,
  });
  // Copies, blends, blocks and noise that is alike make parts of the path vary apart, as something that runs does.
  const otherCause = isOfCamera(footage)
    ? pattern.values.blocks
      ? untold("light", "blocks of a compression vary by themselves: see the line pattern")
      : isNoiseAlike(effectiveRows, width)
        ? untold("light", "noise that neighbouring pixels share varies by itself: see the line pattern")
        : null
    : untold("light", "repeated or blended frames vary by themselves: see the line frames");
  const clockLine = () => {
    if (isOfStill) return untold("clock", "one still does not tell how the lamp repeats");
    return isOfCamera(footage) ? checkClock(clock!) : untold("clock", NOT_OF_CAMERA);
  };
  const edges = edgesAlong(picture, path);
  return [
    checkFocus({
      edges,
      ...(planned !== undefined && { mostBlurPixels: planned }),
    }),
    checkExposure({ brightest, white }),
    isClipped
      ? untold("noise", clipped("noise"))
      : checkNoise({
          noise: isOfStill ? ofStill() : footage.noise,
          width,
          effectiveRows,
          white,
          brightest: brightest.value,
          isOfStill,
        }),
    lightLine(),
    checkFrames({ timing: footage.timing, numbers: footage.frameNumbers }),
    pattern,
    checkDrift({
      frames: footage.frameNumbers.length,
      along: seen(shift.along),
      across: seen(shift.across),
      acrossEdge: seenAcross(edges, footage),
    }),
    ...(plan ? [modeLine(plan, frames, options)] : []),
    ...(clock ? [clockLine()] : []),
  ];
}

/** Share of samples at white or at 0 up to which the medians of noise, and the depth of flicker, come out low by less
 *  than a tenth. */
const MOST_CLIPPED = 0.05;

const NOT_OF_CAMERA =
  "frames are repeated or blended, so that their times are not those of the camera: no rate is told";

/** Whether the frames are those that the camera recorded, as far as they tell. */
function isOfCamera({ timing }: Footage): boolean {
  return timing.seen !== "copies" && timing.seen !== "conversion";
}

function untold(check: CheckLine["check"], message: string): CheckLine {
  return { check, verdict: "not-checked", message, advice: null, values: {} };
}

function seen(shift: ShiftOfFootage | null) {
  if (!shift) return null;
  const { shiftPixels, standardUncertaintyPixels, moves } = shift;
  const known = shiftPixels.filter((value) => !Number.isNaN(value)).sort();
  return { extentPixels: known[known.length - 1] - known[0], standardUncertaintyPixels, moves };
}

/** Of a shift along the path what is across the strongest edge on it: that edge tells nothing else. */
function seenAcross(edges: readonly EdgeOnPath[], { path: [[x1, y1], [x2, y2]], shift }: Footage) {
  const along = seen(shift.alongByEdge);
  if (!along || edges.length === 0) return null;
  const { normalRadians, place } = edges.reduce((a, b) => (b.step > a.step ? b : a));
  const part = Math.abs(Math.cos(normalRadians - Math.atan2(y2 - y1, x2 - x1)));
  return {
    moves: along.moves,
    extentPixels: along.extentPixels * part,
    standardUncertaintyPixels: along.standardUncertaintyPixels * part,
    place,
  };
}

function modeLine(plan: PlanFile, { rows, columns }: TakeFrames, options: DryCheckOptions): CheckLine {
  const { rateHz = null, exposureSeconds = null } = options;
  const settings = { rows, columns, rateHz, exposureSeconds, metresPerPixel: null };
  const compared = compareSettings(plan, settings).filter(({ quantity }) => quantity !== "metresPerPixel");
  return checkMode({
    settings: compared.map(({ quantity, planned, observed, verdict }) => ({
      quantity,
      planned: planned!.low,
      observed,
      agrees: verdict === "held",
    })),
  });
}

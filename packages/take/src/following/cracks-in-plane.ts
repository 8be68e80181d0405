import type { FrameSource, FrontLine, TrackOutcome } from "@frontpace/tracker";
import { finiteSamples } from "../footage/finite-samples.js";
import type { FrameRange } from "../settings/check-against-frames.js";
import { bendsLengths, type Settings } from "../settings/settle.js";
import type { MeasureContext } from "../types.js";
import { type FollowedCrack, followCracks } from "./follow-cracks.js";
import { alongRows, trackIn } from "./track-in.js";

type Point = readonly [x: number, y: number];

/** Cracks that were followed along their own courses, and what is measured of them. */
export interface CracksInPlane {
  /** None where lengths are known along straight paths only, or they are too faint. */
  readonly cracks: readonly FollowedCrack[];
  /** Of the only crack, or of the one asked for; else not found, for want of a choice. */
  readonly outcome: TrackOutcome;
  /** Mean brightness of the last frames, row-major, shape [rows, columns]. */
  readonly last: Float64Array;
}

/** Fewest frames in which cracks are looked for. */
const FEWEST_FRAMES = 8;
/** Lines that stand out less than this over the noise of a pixel are not followed for their speeds: below it a network falls into pieces, and tips of
 *  its branches go unseen (common practice, no source). */
const FAINTEST = 3;
/** More pieces than this are a cloud of cracks. */
const MOST_CRACKS = 24;
/** Of the length of all lines, tips ran along this share at least: else they are not cracks, but what something else left behind. */
const LEAST_TRACKED = 0.6;
/** What lies as near to rows or columns, degrees, and so near to its chord, px, is followed along them. */
const NEARLY = 2;
const STRAIGHT = 1.5;

/** Cracks that run as thin lines through the picture, each followed along its own course; with a plane map or a lens along a straight path.
 *  @param frames  in which the lines are looked for
 *  @param timed  the same, in which they are followed
 *  @returns null where they are not looked for (a path or an origin is given, rows are read in turn, frames
 *    are few), where what changed is not made of a few thin lines, or where it is one straight line along rows or columns,
 *    and where no tips ran along most of it */
export async function cracksInPlane(
  frames: FrameSource,
  timed: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<CracksInPlane | null> {
  const { path, origin, cell, calibration, rowTimeSeconds, front } = settings;
  if (path || origin || cell !== null || rowTimeSeconds !== null) return null;
  if (range.end - range.start < FEWEST_FRAMES) return null;
  const { crackNetwork } = await import("@frontpace/cracks");
  const network = await finiteSamples(crackNetwork(frames, range, context.signal));
  if (!network || network.lines.length > MOST_CRACKS) return null;
  if (network.lines.length === 1 && runsAlongPixels(network.lines[0].points)) return null;
  const bends = bendsLengths(calibration);
  const inPixels = bends ? { ...settings, calibration: null } : settings;
  const cracks = await followCracks(timed, network, (course) =>
    trackIn(course, alongRows(course, inPixels), range, context),
  );
  if (cracks.length === 0 || trackedShare(cracks) < LEAST_TRACKED) return null;
  if (network.contrast < FAINTEST)
    return { cracks: [], outcome: tooFaint(cracks, network.contrast), last: network.last };
  if (bends) return { cracks: [], outcome: await alongChord(cracks, network.width), last: network.last };
  return { cracks, outcome: chosen(cracks, front), last: network.last };

  /** With a plane map or a lens: a straight crack along its chord, where these are known; no number for any other. */
  async function alongChord(found: readonly FollowedCrack[], crackWidth: number): Promise<TrackOutcome> {
    const [{ points, outcome }] = found;
    const [from, to] = [points[0], points[points.length - 1]];
    if (found.length === 1 && isStraight(points)) {
      const chord: [[number, number], [number, number]] = [
        [from[0], from[1]],
        [to[0], to[1]],
      ];
      return trackIn(timed, { ...settings, path: chord, width: Math.ceil(crackWidth) + 2 }, range, context);
    }
    const seen =
      found.length === 1
        ? `a bent crack is seen, from ${placeText(from)} to ${placeText(to)} px`
        : `${found.length} cracks are seen`;
    const message = `${seen}, and the calibration holds a plane map or a lens, which are known along straight paths only: a speed along rows or columns would be another one. Give a path along a straight piece of a crack and the frames in which it runs there (--path, --frames), or a scale of one number`;
    return { status: "not-found", reason: "cracks-off-path", message, streak: outcome.streak, warnings: [] };
  }
}

/** No number of lines that the noise almost hides; what was seen of them, and what to do. */
function tooFaint(cracks: readonly FollowedCrack[], contrast: number): TrackOutcome {
  const seen = cracks.length === 1 ? "a thin crack is seen" : `${cracks.length} thin cracks are seen`;
  const which = cracks.length === 1 ? "it" : "one of them";
  const message = `${seen} that stand${cracks.length === 1 ? "s" : ""} out of the picture by ${contrast.toFixed(1)} times the noise of a pixel: below ${FAINTEST} branches break up or go unseen, and no speeds are given. Give them more light or a longer exposure, or give a path along ${which} and the frames in which it runs there (--path, --frames)`;
  return {
    status: "not-found",
    reason: "cracks-too-faint",
    message,
    streak: cracks[0].outcome.streak,
    warnings: [],
  };
}

function placeText([x, y]: Point): string {
  return `${x.toFixed(0)},${y.toFixed(0)}`;
}

function trackedShare(cracks: readonly FollowedCrack[]): number {
  const lengthOf = (some: readonly FollowedCrack[]) =>
    some.reduce((sum, { points }) => sum + points.length, 0);
  return lengthOf(cracks.filter(({ outcome }) => outcome.status === "tracked")) / lengthOf(cracks);
}

/** The outcome of one crack, by its number from 1; of the only one where none is asked for. */
function chosen(cracks: readonly FollowedCrack[], front: number | null): TrackOutcome {
  if (cracks.length === 1 && front === null) return cracks[0].outcome;
  const asked = front === null ? undefined : cracks[front - 1];
  const fronts = cracks.flatMap(({ outcome }) => lineOf(outcome) ?? []);
  if (asked) return { ...asked.outcome, ...(asked.outcome.status === "tracked" && { fronts }) };
  const { streak } = cracks[0].outcome;
  const seen = `${cracks.length} cracks are seen, which part or run by themselves`;
  const tail = { fronts, streak, warnings: [] };
  if (front !== null) {
    const message = `front ${front} was asked for, but ${seen}`;
    return { status: "not-found", reason: "front-not-there", message, ...tail };
  }
  const message = `${seen}: one speed does not describe them; each has its own. Choose one by its number, or give a path and frames in which only one runs`;
  return { status: "not-found", reason: "several-fronts", message, ...tail };
}

function lineOf(outcome: TrackOutcome): FrontLine | null {
  if (outcome.status !== "tracked") return null;
  const { line, firstFrame, lastFrame } = outcome.track;
  const { slopePixelsPerFrame, standardUncertaintyPixelsPerFrame, interceptPixels } = line;
  const at = (frame: number) => interceptPixels + slopePixelsPerFrame * frame;
  return {
    slopePixelsPerFrame,
    standardUncertaintyPixelsPerFrame,
    firstFrame,
    lastFrame,
    fromPixels: at(firstFrame),
    toPixels: at(lastFrame),
  };
}

/** A straight line that rows or columns follow as well. */
function runsAlongPixels(points: readonly Point[]): boolean {
  const [[x1, y1], [x2, y2]] = [points[0], points[points.length - 1]];
  const length = Math.hypot(x2 - x1, y2 - y1);
  if (Math.min(Math.abs(x2 - x1), Math.abs(y2 - y1)) > Math.sin((NEARLY * Math.PI) / 180) * length)
    return false;
  return isStraight(points);
}

function isStraight(points: readonly Point[]): boolean {
  const [[x1, y1], [x2, y2]] = [points[0], points[points.length - 1]];
  const length = Math.hypot(x2 - x1, y2 - y1);
  return points.every(([x, y]) => Math.abs((x - x1) * (y2 - y1) - (y - y1) * (x2 - x1)) <= STRAIGHT * length);
}

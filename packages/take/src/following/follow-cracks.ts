import type { CrackLine, CrackNetwork } from "@frontpace/cracks";
import type { FrameSource, TrackOutcome } from "@frontpace/tracker";
import { courseFrames } from "./course-frames.js";
import { inPicture } from "./in-picture.js";

type Point = readonly [x: number, y: number];

/** A piece of crack that was followed along its own course. */
export interface FollowedCrack {
  /** Its course, 1 px apart, along which positions count. */
  readonly points: readonly Point[];
  /** The same in the direction in which the tip ran. */
  readonly course: readonly Point[];
  readonly outcome: TrackOutcome;
  /** Place in the list of the crack from whose end it goes on; null where it starts by itself, or that is not told. */
  readonly parent: number | null;
}

/** Said of what runs on a course as such, not of the crack: it ends where the crack ended, and is as narrow as the crack. */
const OF_THE_COURSE = ["front-leaves", "front-tilted"];
/** Pixels read to either side of a crack. */
const LEAST_REACH = 2;
const MOST_REACH = 6;
/** Shorter than this, px, what is left of a piece shows no speed. */
const SHORTEST = 10;
/** A line on which cracks run on stretches of their own has the code of a path with several fronts. */
const SEVERAL = "several-fronts";

/** Follows every line of a network of cracks along its course. A line along which several run on stretches of their own, as from one place to either side, is
 *  one of the picture and not one crack: it is cut between them.
 *  @param track  follows a front along the rows of such frames
 *  @returns in the order in which they started; pieces too short to be followed are left out */
export async function followCracks(
  frames: FrameSource,
  { lines, nodes, width }: CrackNetwork,
  track: (frames: FrameSource) => Promise<TrackOutcome>,
): Promise<readonly FollowedCrack[]> {
  const reach = Math.min(MOST_REACH, Math.max(LEAST_REACH, Math.round(width / 2)));
  const degree = nodes.map((_, node) => lines.filter(({ from, to }) => from === node || to === node).length);
  const margin = Math.ceil(width);
  const followed: Followed[] = [];
  for (const line of lines) {
    // At a node where cracks part the other ones lie in the band.
    const points = betweenNodes(line, degree, margin);
    if (points.length < SHORTEST) continue;
    const outcome = await track(courseFrames(frames, points, reach));
    const pieces = await followPieces(points, line, outcome);
    if (!pieces) followed.push({ points, ...runOf(outcome, line), outcome });
    else followed.push(...pieces);
  }
  followed.sort((a, b) => a.starts - b.starts);
  return followed.map((one): FollowedCrack => {
    const { points, outcome } = one;
    const parent = followed.findIndex(
      (other) => other !== one && one.startNode !== null && other.endNode === one.startNode,
    );
    const path = [points[0], points[points.length - 1]] as const;
    return {
      points,
      course: one.isForward ? points : points.toReversed(),
      outcome: inPicture(ofTheCrack(outcome), path),
      parent: parent < 0 ? null : parent,
    };
  });

  /** The parts of a course on each of which one crack runs; null where it is not made of such parts. */
  async function followPieces(
    course: readonly Point[],
    { from, to }: CrackLine,
    whole: TrackOutcome,
  ): Promise<Followed[] | null> {
    const cuts = cutsBetween(whole, margin);
    if (cuts.length === 0) return null;
    const ends = [-margin, ...cuts, course.length + margin];
    const pieces: Followed[] = [];
    for (let k = 0; k + 1 < ends.length; k++) {
      const points = course.slice(ends[k] + margin, ends[k + 1] - margin);
      if (points.length < SHORTEST) return null;
      const outcome = await track(courseFrames(frames, points, reach));
      if (outcome.status !== "tracked") return null;
      const nodes = { from: k === 0 ? from : null, to: k + 2 === ends.length ? to : null };
      pieces.push({ points, ...runOf(outcome, nodes), outcome });
    }
    return pieces;
  }
}

/** Places on a course between cracks of which each runs on a stretch of its own, px; none where there are fewer than two, or where they
 *  run over each other by more than the width of a line to either side. */
function cutsBetween(outcome: TrackOutcome, margin: number): readonly number[] {
  if (outcome.status !== "not-found" || outcome.reason !== SEVERAL) return [];
  const stretches = (outcome.fronts ?? [])
    .map(({ fromPixels, toPixels }) => [Math.min(fromPixels, toPixels), Math.max(fromPixels, toPixels)])
    .sort(([a], [b]) => a - b);
  const pairs = stretches.slice(1).map(([start], k) => [stretches[k][1], start]);
  return pairs.every(([end, start]) => end - start <= 2 * margin)
    ? pairs.map(([end, start]) => Math.round((end + start) / 2))
    : [];
}

interface Followed {
  readonly points: readonly Point[];
  readonly outcome: TrackOutcome;
  /** Nodes where the tip entered and left; null where it was not followed. */
  readonly startNode: number | null;
  readonly endNode: number | null;
  readonly isForward: boolean;
  /** First frame that shows the tip; infinite where it was not followed. */
  readonly starts: number;
}

function ofTheCrack(outcome: TrackOutcome): TrackOutcome {
  return { ...outcome, warnings: outcome.warnings.filter(({ code }) => !OF_THE_COURSE.includes(code)) };
}

function betweenNodes({ points, from, to }: CrackLine, degree: readonly number[], margin: number) {
  const first = degree[from] > 1 ? margin : 0;
  return points.slice(first, points.length - (degree[to] > 1 ? margin : 0));
}

/** @param nodes  at the ends of what was followed; null where there is none */
function runOf(outcome: TrackOutcome, { from, to }: { from: number | null; to: number | null }) {
  if (outcome.status !== "tracked")
    return { startNode: null, endNode: null, isForward: true, starts: Number.POSITIVE_INFINITY };
  const { line, firstFrame } = outcome.track;
  const isForward = line.slopePixelsPerFrame > 0;
  const [startNode, endNode] = isForward ? [from, to] : [to, from];
  return { startNode, endNode, isForward, starts: firstFrame };
}

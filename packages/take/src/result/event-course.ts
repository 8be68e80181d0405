import { TakeError } from "../take-error.js";
import type { CourseFrame, CourseFront, MeasuredResult, TakeResult, TipRow } from "../types.js";
import { type FrontPlace, grownAbout, movedAlong, placesOnLines, type RoundAbout } from "./front-places.js";

/** What a kind of result says of a frame. */
interface Seen {
  /** Numbers of the first and the last frame that show the event. */
  readonly extent: readonly [first: number, last: number];
  frontsIn(frame: number): readonly CourseFront[];
  /** s, of the frames in which the front was placed. */
  readonly secondsOf: ReadonlyMap<number, number>;
  /** Time from which it is counted, s. */
  readonly zeroSeconds: number;
  distanceIn(frame: number): number | null;
}

/** The frames of an event with what is known of its front in each: where it is, for how long and how far it ran. In a frame whose reading was rejected
 *  it stands where the fit has it; in one without a reading it has no place.
 *  @param tips  rows of tips.csv, where the result has branches
 *  @param marginFrames  how many frames on either side, as far as the take that was used goes
 *  @throws TakeError `nothing-to-show` where no front was seen, or the result has none of the places; `tips-missing` */
export function eventCourse(
  result: TakeResult,
  tips: readonly TipRow[] | null,
  marginFrames: number,
): CourseFrame[] {
  if (!(Number.isSafeInteger(marginFrames) && marginFrames >= 0))
    throw new RangeError(`marginFrames must be a whole number >= 0, got ${marginFrames}`);
  const { take } = result;
  const { extent, frontsIn, secondsOf, zeroSeconds, distanceIn } = seenIn(result, tips);
  const step = take.frameStep ?? 1;
  const before = Math.floor((extent[0] - take.firstFrame) / step);
  const first = take.firstFrame + step * Math.max(0, before - marginFrames);
  const last = Math.min(take.lastFrame, extent[1] + step * marginFrames);
  const course: CourseFrame[] = [];
  for (let number = first; number <= last; number += step) {
    const seconds = secondsAt(number, secondsOf, take);
    course.push({
      number,
      fronts: frontsIn(number),
      elapsedSeconds: seconds === null ? null : seconds - zeroSeconds,
      distanceMetres: distanceIn(number),
    });
  }
  return course;
}

function seenIn(result: TakeResult, tips: readonly TipRow[] | null): Seen {
  if (result.status === "bounded") return crossed(result.lowerBound, result.take);
  if (result.branches) {
    if (!tips)
      throw new TakeError(
        "tips-missing",
        "the places of the cracks stand in tips.csv, which is not beside the result: put it there, or measure again",
      );
    return inBranches(result, tips);
  }
  if (result.status === "measured") return followed(result);
  return onLines(result);
}

/** A front that was followed along a straight path or a ray. */
function followed(result: MeasuredResult): Seen {
  const { track, event = [], take } = result;
  const shown = event.find(({ fronts }) => fronts.length > 0);
  const at = track && shown ? track.frame.indexOf(shown.frame) : -1;
  if (!track || !shown || at < 0)
    throw new TakeError(
      "nothing-to-show",
      "the result does not say where the front was in each frame, as an early version wrote it: measure again",
    );
  const [place] = shown.fronts;
  const about = roundAbout(result.shape);
  const shownPixels = track.positionPixels[at];
  const placedAt = (pixels: number): FrontPlace => {
    if (!about || place.kind === "circle") return movedAlong(place, take.path, pixels - shownPixels);
    const [[x, y]] = take.path;
    const first = Math.hypot(x - about.origin[0], y - about.origin[1]);
    return grownAbout(about.origin, place, Math.max(0, first + pixels) / (first + shownPixels));
  };
  const along = alongTrack(track);
  return {
    ...along,
    frontsIn: (frame) => {
      const k = along.rowOf(frame);
      if (k === null) return [];
      const isFitted = !track.used[k];
      return [{ place: placedAt(isFitted ? track.fittedPixels[k] : track.positionPixels[k]), isFitted }];
    },
  };
}

/** Tips of cracks; distance and time are those of the one that was measured, where there is one. */
function inBranches(result: TakeResult, tips: readonly TipRow[]): Seen {
  const used = tips.filter((tip) => tip.used);
  if (used.length === 0) throw new TakeError("nothing-to-show", "tips.csv has no tip that was used");
  const isOne = (result.branches ?? []).length === 1;
  const frontsIn = (frame: number): CourseFront[] =>
    used
      .filter((tip) => tip.frame === frame)
      .map(({ branch, x, y }) => ({
        place: { kind: "tip", ...(!isOne && { number: branch }), points: [[x, y]] },
        isFitted: false,
      }));
  const frames = used.map(({ frame }) => frame);
  const extent = [Math.min(...frames), Math.max(...frames)] as const;
  if (result.status === "measured" && result.track) {
    const { distanceIn, ...along } = alongTrack(result.track);
    const own = result.take.front ?? 1;
    const isSeen = new Set(used.filter(({ branch }) => branch === own).map(({ frame }) => frame));
    return {
      ...along,
      extent,
      frontsIn,
      distanceIn: (frame) => (isSeen.has(frame) ? distanceIn(frame) : null),
    };
  }
  return {
    extent,
    frontsIn,
    secondsOf: new Map(used.map(({ frame, timeSeconds }) => [frame, timeSeconds])),
    zeroSeconds: Math.min(...used.map(({ timeSeconds }) => timeSeconds)),
    distanceIn: () => null,
  };
}

/** What a front ran from that was followed along its radius; null: it was not. */
function roundAbout(shape: TakeResult["shape"]): RoundAbout | null {
  if (shape?.measuredAlong !== "radius" || !shape.circle) return null;
  const { origin, axes } = shape.circle;
  if (!axes?.differ) return { origin };
  const { ratio, angleDegrees } = axes;
  return { origin: axes.origin ?? origin, oval: { ratio: ratio.value, angleDegrees } };
}

/** Several fronts of which none was chosen. */
function onLines({ take, shape, ...result }: TakeResult): Seen {
  const fronts = "fronts" in result ? (result.fronts ?? []) : [];
  if (fronts.length === 0)
    throw new TakeError(
      "nothing-to-show",
      `no front was found in ${take.name} (${result.notFound?.message ?? "no reason is given"}): there is nothing to draw`,
    );
  const about = roundAbout(shape);
  const first = Math.min(...fronts.map(({ firstFrame }) => firstFrame));
  return {
    extent: [first, Math.max(...fronts.map(({ lastFrame }) => lastFrame))],
    frontsIn: (frame) =>
      placesOnLines(fronts, take, about, frame).map((place) => ({ place, isFitted: false })),
    secondsOf: new Map([[first, first / take.rateHz]]),
    zeroSeconds: first / take.rateHz,
    distanceIn: () => null,
  };
}

/** A front that was too fast to be placed. */
function crossed(
  { lastFrameBefore, firstFrameAfter }: NonNullable<TakeResult["lowerBound"]>,
  { rateHz }: TakeResult["take"],
): Seen {
  return {
    extent: [lastFrameBefore, firstFrameAfter],
    frontsIn: () => [],
    secondsOf: new Map([[lastFrameBefore, lastFrameBefore / rateHz]]),
    zeroSeconds: lastFrameBefore / rateHz,
    distanceIn: () => null,
  };
}

function alongTrack(track: NonNullable<MeasuredResult["track"]>) {
  const { frame: frames, timeSeconds, positionMetres, fittedMetres, used } = track;
  const [first, last] = [used.indexOf(true), used.lastIndexOf(true)];
  const rows = new Map(frames.map((frame, k) => [frame, k]));
  const rowOf = (frame: number): number | null => {
    const k = rows.get(frame);
    return k === undefined || k < first || k > last ? null : k;
  };
  const sense = Math.sign(fittedMetres[last] - fittedMetres[first]);
  return {
    extent: [frames[first], frames[last]] as const,
    secondsOf: new Map(frames.map((frame, k) => [frame, timeSeconds[k]])),
    zeroSeconds: timeSeconds[first],
    rowOf,
    distanceIn: (frame: number) => {
      const k = rowOf(frame);
      if (k === null) return null;
      return sense * ((used[k] ? positionMetres[k] : fittedMetres[k]) - positionMetres[first]);
    },
  };
}

/** Time of a frame, s: in one without a reading that of the last with one and the frames since. A table of times is not in the result.
 *  @returns null where only that would tell */
function secondsAt(
  frame: number,
  secondsOf: ReadonlyMap<number, number>,
  { rateHz, timestamps }: TakeResult["take"],
): number | null {
  const seconds = secondsOf.get(frame);
  if (seconds !== undefined) return seconds;
  if (timestamps) return null;
  const frames = [...secondsOf.keys()].sort((a, b) => a - b);
  const near = frames.findLast((number) => number < frame) ?? frames[0];
  return (secondsOf.get(near) as number) + (frame - near) / rateHz;
}

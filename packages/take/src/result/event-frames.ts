import type { FrontPosition, TrackOutcome } from "@frontpace/tracker";
import type { Settings } from "../settings/settle.js";
import type { TakeResult, TipRow } from "../types.js";
import { frameOf, linesOf } from "./front-lines.js";
import {
  circleAbout,
  type FrontPlace,
  formAcross,
  lineAcross,
  placesOnLines,
  type RoundAbout,
} from "./front-places.js";

type EventFrames = NonNullable<TakeResult["event"]>;

/** What the frames of an event are chosen by. */
export interface EventSeen {
  readonly outcome: TrackOutcome;
  /** Numbers of the frames used, increasing. */
  readonly numbers: readonly number[];
  /** Of a circular front followed along its radius; null: it was not. */
  readonly radius: RoundAbout | null;
  /** Of a form that moves as a whole and was followed in that direction: how far it lies behind at a place across, and the middle of the picture, px; null: none was. */
  readonly form: {
    readonly lagPixels: (across: number) => number;
    readonly middle: readonly [number, number];
  } | null;
  /** Tips of cracks followed along their own courses. */
  readonly tips: readonly TipRow[];
  /** How many of these cracks there are. */
  readonly branches: number;
}

/** Frames that show the event: the last one before the front is seen, one in the middle of its run and the first one after it, or
 *  where there is none the first and the last that show it; of several, the middle one shows as many as any. Where nothing was found they are the first, the middle and the last frame. */
export function eventFrames(seen: EventSeen, settings: Settings): EventFrames {
  const { outcome, numbers } = seen;
  const placesIn = placesOf(seen, settings);
  const [first, last] = extent(seen, settings) ?? [numbers[0], numbers[numbers.length - 1]];
  const isSeen = outcome.status !== "crossed" && extent(seen, settings) !== null;
  const before = isSeen ? (numbers.findLast((number) => number < first) ?? first) : first;
  const after = isSeen ? (numbers.find((number) => number > last) ?? last) : last;
  const between = numbers.filter((number) => number > before && number < after);
  const most = between.reduce((count, number) => Math.max(count, placesIn(number).length), 0);
  const fullest = between.filter((number) => placesIn(number).length === most);
  const middle = fullest.length > 0 ? fullest[(fullest.length - 1) >> 1] : null;
  const chosen = [
    { moment: "before" as const, frame: before },
    ...(middle === null ? [] : [{ moment: "middle" as const, frame: middle }]),
    ...(after === before ? [] : [{ moment: "after" as const, frame: after }]),
  ];
  return chosen.map(({ moment, frame }) => ({ moment, frame, fronts: placesIn(frame) }));
}

/** Numbers of the first and the last frame that show the front; of one that crossed, of the frames about it; null where none does. */
function extent({ outcome, tips }: EventSeen, settings: Settings): readonly [number, number] | null {
  if (tips.length > 0) {
    const frames = tips.filter(({ used }) => used).map(({ frame }) => frame);
    return frames.length === 0 ? null : [Math.min(...frames), Math.max(...frames)];
  }
  if (outcome.status === "tracked") {
    const used = outcome.track.positions.filter((position) => position.used);
    return [used[0].frame, used[used.length - 1].frame];
  }
  if (outcome.status === "crossed")
    return [frameOf(outcome.lastFrameBefore, settings), frameOf(outcome.firstFrameAfter, settings)];
  const fronts = outcome.fronts ?? [];
  if (fronts.length === 0) return null;
  return [
    frameOf(Math.min(...fronts.map(({ firstFrame }) => firstFrame)), settings),
    frameOf(Math.max(...fronts.map(({ lastFrame }) => lastFrame)), settings),
  ];
}

/** Where the front was found in a frame of a number: measured, not on the fitted line. */
function placesOf(
  { outcome, radius, form, tips, branches }: EventSeen,
  settings: Settings,
): (frame: number) => FrontPlace[] {
  if (tips.length > 0) {
    const used = new Map<number, FrontPlace[]>();
    for (const { branch, frame, x, y, used: isUsed } of tips) {
      if (!isUsed) continue;
      const place: FrontPlace = {
        kind: "tip",
        ...(branches > 1 && { number: branch }),
        points: [[x, y]],
      };
      used.set(frame, [...(used.get(frame) ?? []), place]);
    }
    return (frame) => used.get(frame) ?? [];
  }
  if (outcome.status === "tracked") {
    const { track, streak } = outcome;
    const byFrame = new Map<number, FrontPosition>(
      track.positions.filter(({ used }) => used).map((position) => [position.frame, position]),
    );
    return (frame) => {
      const position = byFrame.get(frame)?.positionPixels;
      if (position === undefined) return [];
      if (radius) return [circleAbout(radius, streak.path, position)];
      return [
        form
          ? formAcross(form.lagPixels, form.middle, streak, position)
          : lineAcross(streak, position, track.tilt?.degrees),
      ];
    };
  }
  if (outcome.status === "crossed") return () => [];
  const { fronts = [], streak } = outcome;
  return (frame) => placesOnLines(linesOf(fronts, settings), streak, radius, frame);
}

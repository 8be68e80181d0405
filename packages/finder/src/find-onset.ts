import { areasWithin, fineCells, type PartOfPicture } from "./fine-cells.js";
import type { FrameReader } from "./frame-reader.js";
import { type Departure, quietFrames } from "./quiet-frames.js";

/** Frames averaged as quiet, and fewest that will do. */
const QUIET = 32;
const FEWEST_QUIET = 4;
/** A frame departs where an area does by so many noise levels and one beside it in the next frame by five, or, by itself,
 *  by half as many again. */
const STRONG = 6.5;
const STRONG_ALONE = 9.5;
/** Where none departs the motion may begin later: so many frames more are looked at, then twice as many, and so on. */
const FURTHER = 32;
const TIMES_FURTHER = 4;
/** A frame that departs must not lie closer behind the quiet ones: these would hold part of the motion. */
const CLEAR = 8;
/** So many steps back without a quiet frame, over 96 frames: something moves all the time. */
const MOST_STEPS_BACK = 2;
/** No frame before it can show the motion unseen where a frame departs by so many noise levels, or the next one does: in invented takes none of
 *  571 such frames lay more than one off, four of them one, and of 381 others 187 were off, by up to 125. */
const CLEARLY = 13;
const NEXT_CLEARLY = 20;
/** Small cells about a hot area within which its neighbour in time may lie. */
const NEAR = 4;

/** Where the motion begins, or, looked at backwards, ends. */
export interface Onset {
  readonly place: number;
  /** Whether it shows so well there that no frame before it can hold any of it. */
  readonly isClear: boolean;
}

/** The first frame that departs from the frames before it, or, looked at backwards, the last that departs from those
 *  after it.
 *  @param quiet  place of a frame of which it is thought that nothing has begun yet
 *  @param changed  place of a frame, in the direction of looking, of which it is thought that it has
 *  @param direction  1: before to after; -1: backwards
 *  @param isWithin  the part of the picture that is looked at. Default: all
 *  @returns its place; the end of the take where fewer than four frames are quiet there; null where none departs; "restless" where
 *    no frames are quiet */
export async function findOnset(
  reader: FrameReader,
  quiet: number,
  changed: number,
  direction: 1 | -1,
  byLevel: boolean,
  isWithin?: PartOfPicture,
): Promise<Onset | "restless" | null> {
  const { region, count } = reader;
  const cells = fineCells(region.rows, region.columns);
  const counts = isWithin && areasWithin(cells, isWithin);
  const end = direction === 1 ? 0 : count - 1;
  const atEnd = { place: end, isClear: false };
  // A sample at the very end of the take has too few frames behind it.
  const inside = clamp(end + (CLEAR - 1) * direction);
  let from = (quiet - inside) * direction > 0 ? quiet : inside;
  let to = clamp(changed + CLEAR * direction);
  let found: Onset | null = null;
  for (let step = 0, back = QUIET; step < MOST_STEPS_BACK; step++, back *= 2) {
    const far = clamp(from - (QUIET - 1) * direction);
    if (Math.abs(from - far) + 1 < FEWEST_QUIET) return found === null ? null : atEnd;
    const still = await quietFrames(
      reader,
      cells,
      [Math.min(far, from), Math.max(far, from) + 1],
      byLevel,
      counts,
    );
    const looked: Departure[] = [];
    let at: number | null = null;
    for (let more = 0; more <= TIMES_FURTHER; more++) {
      const next = from + (looked.length + 1) * direction;
      if ((to - next) * direction >= 0) {
        const part = await still.departuresOf(Math.min(next, to), Math.max(next, to) + 1);
        looked.push(...(direction === 1 ? part : part.reverse()));
      }
      at = firstDeparting(looked);
      if (at !== null || found !== null) break;
      to = clamp(to + FURTHER * 2 ** more * direction);
    }
    if (at === null) return found;
    const place = from + (at + 1) * direction;
    // Of fewer frames before it, some may hold the motion already.
    const isSure = (place - end) * direction >= CLEAR;
    found = { place, isClear: isSure && isClear(looked, at) };
    if (at >= CLEAR) return found;
    const earlier = clamp(from - back * direction);
    if ((earlier - end) * direction + 1 >= FEWEST_QUIET) from = earlier;
    else {
      // At the end of the take whatever quiet frames there are must do.
      const least = clamp(end + (FEWEST_QUIET - 1) * direction);
      const clear = found.place - (CLEAR + 1) * direction;
      const next = (clear - least) * direction > 0 ? clear : least;
      if ((from - next) * direction <= 0) return at === 0 ? atEnd : found;
      from = next;
    }
    to = clamp(found.place + CLEAR * direction);
  }
  return "restless";

  function clamp(place: number): number {
    return Math.min(count - 1, Math.max(0, place));
  }
}

/** @param looked  departures of frames in the direction of looking */
function firstDeparting(looked: readonly Departure[]): number | null {
  let at = looked.findIndex(
    ({ greatest }, i) =>
      greatest > STRONG_ALONE ||
      (greatest > STRONG && i + 1 < looked.length && near(looked[i], looked[i + 1])),
  );
  if (at < 0) return null;
  // What leads up to it in the same place may be weaker: there are few places where chance could put it.
  while (at > 0 && near(looked[at - 1], looked[at])) at--;
  return at;
}

function isClear(looked: readonly Departure[], at: number): boolean {
  return looked[at].greatest > CLEARLY || (looked[at + 1]?.greatest ?? 0) > NEXT_CLEARLY;
}

function near(a: Departure, b: Departure): boolean {
  return a.hot.some((one) =>
    b.hot.some(
      (other) =>
        one[0] <= other[1] + NEAR &&
        other[0] <= one[1] + NEAR &&
        one[2] <= other[3] + NEAR &&
        other[2] <= one[3] + NEAR,
    ),
  );
}

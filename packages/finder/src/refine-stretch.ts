import { findOnset } from "./find-onset.js";
import type { FrameReader } from "./frame-reader.js";
import { inLightOf } from "./light.js";
import { changeStrength } from "./noise.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Stretch } from "./scan-places.js";
import type { Certainty } from "./types.js";

/** Frames averaged where descriptors are compared. */
const AVERAGED = 8;
/** The picture after is not that before where a value of it, averaged, differs by so many noise levels of one sample. */
const LASTING = 4;
/** And where that is more than this part of the greatest change on the way. */
const LASTING_PART = 0.03;
/** The brightness of the whole counts as changed where it differs by so much more than it usually does over so many frames. */
const LASTING_LEVEL = 6;
/** A stretch is halved until so many frames are left, which are read in order. */
const READ_IN_ORDER = 48;

/** Names the first and the last frame of the motion in a stretch of which both ends are thought to be quiet.
 *  @param levelNoise  how much the mean brightness of the picture varies over so many frames without an event
 *  @returns null where single frames show nothing; "restless" where no frames beside it are quiet */
export async function refineStretch(
  reader: FrameReader,
  stretch: Stretch,
  levelNoise: (frames: number) => number,
): Promise<PlacedEvent | "restless" | null> {
  const { grid, count } = reader;
  const { cells, size } = grid;
  const noise = stretch.noise;
  const before = await reader.meanDescriptor(Math.max(0, stretch.before - AVERAGED + 1), stretch.before + 1);
  const after = await reader.meanDescriptor(stretch.after, Math.min(count, stretch.after + AVERAGED));
  const change = changeBetween(before, after, stretch.after - stretch.before);
  const onlyLevel = change.lasting && !change.cells;

  // A sample within may show nothing yet; what lasts is certain only behind the whole stretch.
  const [early, late] = change.lasting
    ? [stretch.after, stretch.before]
    : [stretch.firstWithin, stretch.lastWithin];
  const onset = await halve(stretch.before, early, before, 1);
  const ending = await halve(stretch.after, late, after, -1);
  const begins = await findOnset(reader, onset.quiet, onset.changed, 1, onlyLevel);
  const ends = await findOnset(reader, ending.quiet, ending.changed, -1, onlyLevel);
  if (begins === "restless" || ends === "restless") return "restless";
  let [first, last] = [begins?.place ?? null, ends?.place ?? null];
  // Without quiet frames an end is named as that of the take.
  const isCut = first === 0 || last === count - 1;
  const isHalfWay = first === null || last === null;
  if (first === null || last === null) {
    if (!change.lasting) return null;
    // Too weak for a single frame, or within one: where the picture is half way.
    const half = await halfWay();
    first ??= half;
    last ??= half - 1;
  }
  if (first > last + 1) [first, last] = [last + 1, first - 1];
  const lastOfStaying = Math.min(count - 1, last + 1);

  const local = {
    before: await reader.meanDescriptor(Math.max(0, first - AVERAGED - 1), Math.max(1, first - 1)),
    after: await reader.meanDescriptor(Math.min(count - 1, last + 2), Math.min(count, last + 2 + AVERAGED)),
  };
  const kept = changeBetween(local.before, local.after, last - first + 2 * AVERAGED);
  let peak = 0;
  const within = [
    ...new Set(
      Array.from(
        { length: AVERAGED },
        (_, i) => first! + Math.round((i * Math.max(0, last! - first!)) / (AVERAGED - 1)),
      ),
    ),
  ];
  for await (const descriptor of reader.descriptors(within)) {
    const steady = inLightOf(descriptor, local.before, grid);
    peak = Math.max(peak, changeStrength(local.before, steady, noise, grid));
  }
  const strength = Math.max(peak, kept.strength);
  const isClear = begins?.isClear && ends?.isClear;
  const certainty: Certainty = isCut ? "bracketed" : isHalfWay ? "bisected" : isClear ? "refined" : "visible";
  const around = { certainty, ...local, noise };
  if (kept.lasting && kept.strength > LASTING_PART * peak)
    return { first, last: lastOfStaying, kind: "stays", strength, ...around };
  if (last < first) return null;
  return { first, last, kind: "passes", strength, ...around };

  function changeBetween(a: Float64Array, b: Float64Array, frames: number) {
    const steady = inLightOf(b, a, grid);
    let greatest = 0;
    for (let k = 0; k < 2 * cells; k++) greatest = Math.max(greatest, Math.abs(steady[k] - a[k]) / noise[k]);
    const ofLevel = Math.max(noise[size - 1], levelNoise(frames));
    const byLevel = Math.abs(b[size - 1] - a[size - 1]) / ofLevel;
    const inCells = greatest > LASTING;
    const strength = inCells ? changeStrength(a, steady, noise, grid) : 0;
    return {
      lasting: inCells || byLevel > LASTING_LEVEL,
      cells: inCells,
      strength: Math.max(strength, byLevel > LASTING_LEVEL ? byLevel : 0),
    };
  }

  /** Narrows [quiet, changed] by halves, asking whether frames are alike the quiet ones. */
  async function halve(quiet: number, changed: number, still: Float64Array, direction: 1 | -1) {
    const other = direction === 1 ? after : before;
    while ((changed - quiet) * direction > READ_IN_ORDER) {
      const middle = Math.round((quiet + changed) / 2);
      const start = Math.min(count - AVERAGED / 2, Math.max(0, middle - AVERAGED / 4));
      const some = await reader.meanDescriptor(start, start + AVERAGED / 2);
      if (differs(some, still, other)) changed = middle;
      else quiet = middle;
    }
    return { quiet, changed };
  }

  function differs(some: Float64Array, still: Float64Array, other: Float64Array): boolean {
    const steady = inLightOf(some, still, grid);
    for (let k = 0; k < 2 * cells; k++) if (Math.abs(steady[k] - still[k]) > 6 * noise[k]) return true;
    return change.lasting && partOfWay(some, still, other) > 0.5;
  }

  /** How far from one picture to the other, 0..1, weighted by the noise. */
  function partOfWay(some: Float64Array, still: Float64Array, other: Float64Array): number {
    const steady = inLightOf(some, still, grid);
    const there = inLightOf(other, still, grid);
    let product = 0;
    let square = 0;
    for (let k = onlyLevel ? size - 1 : 0; k < (onlyLevel ? size : 2 * cells); k++) {
      const whole = (there[k] - still[k]) / noise[k];
      product += (whole * (steady[k] - still[k])) / noise[k];
      square += whole * whole;
    }
    return product / square;
  }

  /** The first frame on the far side of the middle between both pictures. */
  async function halfWay(): Promise<number> {
    let [low, high] = [stretch.before, stretch.after];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      const some = await reader.meanDescriptor(middle, middle + 1);
      if (partOfWay(some, before, after) > 0.5) high = middle;
      else low = middle;
    }
    return high;
  }
}

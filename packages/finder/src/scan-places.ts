import { type CellGrid, roundingNoise } from "./cell-grid.js";
import { type Change, findChanges } from "./find-changes.js";
import type { FrameReader } from "./frame-reader.js";
import type { Lasting } from "./lasting-levels.js";
import { inLightOf } from "./light.js";
import { median } from "./median.js";
import { changeStrength, noiseBeside, noiseOfParts } from "./noise.js";
import { splitRestless } from "./split-restless.js";
import type { FindProgress } from "./types.js";

/** Samples looked at together, and those seen twice where one lot ends and the next begins. */
const LOT = 1024;
const SHARED = 128;

const NO_CHANGE = { size: 0, after: 0 };

/** A stretch of the take, by places of frames, in which values of the descriptors change. */
export interface Stretch {
  /** A frame before, the first and the last known within (the other way round where none is known), a frame
   *  after. */
  readonly before: number;
  readonly firstWithin: number;
  readonly lastWithin: number;
  readonly after: number;
  /** Greatest change, noise levels. */
  readonly size: number;
  /** Noise of one sample, shape (grid.size,). */
  readonly noise: Float64Array;
  /** Where what lasts was told apart from what moves all the time: the changes that last, in the light of the reference. */
  readonly lasting?: Lasting;
  /** Whether it stands out of what moves all the time, but does not last. */
  readonly amidRestless?: true;
}

export interface Scan {
  readonly stretches: Stretch[];
  /** Where something may move much of the time: what lasts and what stands out, to be used where the others turn out restless;
   *  null where nothing hints at it. */
  readonly told: readonly Stretch[] | null;
  readonly activity: { place: number; strength: number }[];
  /** Mean brightness of the picture in every sample, in order. */
  readonly levels: { readonly place: number; readonly level: number }[];
  /** Greatest noise of the mean of a cell in any lot, unit of the samples: nine tenths of the cells have less. */
  readonly cellNoise: number;
}

/** Reads the frames at these places, in order, and lists where the picture changes; a lot of descriptors is held at a time.
 *  @param places  increasing
 *  @param apart  usual distance of two places */
export async function scanPlaces(
  reader: FrameReader,
  places: readonly number[],
  apart: number,
  stage: FindProgress["stage"],
): Promise<Scan> {
  const { grid } = reader;
  const told: Stretch[] = [];
  let mayBeRestless = false;
  const scan = {
    stretches: [] as Stretch[],
    activity: [] as Scan["activity"],
    levels: [] as Scan["levels"],
  };
  let cellNoise = 0;
  let lot: Float64Array[] = [];
  let start = 0;
  let done = 0;
  for await (const descriptor of reader.descriptors(places)) {
    scan.levels.push({ place: places[done], level: descriptor[grid.size - 1] });
    lot.push(descriptor);
    done++;
    reader.report(stage, done, places.length);
    const full = lot.length === LOT && places.length - done > SHARED;
    if (!full && done < places.length) continue;
    if (lot.length >= 3) cellNoise = Math.max(cellNoise, lookAt(lot, start));
    lot = lot.slice(-SHARED);
    start = done - lot.length;
  }
  return { ...scan, told: mayBeRestless ? told : null, cellNoise };

  function lookAt(descriptors: readonly Float64Array[], first: number): number {
    const reference = referenceOf(descriptors, grid);
    const steady = descriptors.map((values) => inLightOf(values, reference, grid));
    const cuts = reader.lamps
      .map((lamp) => steady.findIndex((_, j) => places[first + j] >= lamp.first))
      .filter((cut) => cut > 0)
      .sort((a, b) => a - b);
    const rounding = roundingNoise(reader.roundingStep(reference[grid.size - 1]), grid);
    const usualNoise = noiseOfParts(steady, cuts, rounding);
    const times = Float64Array.from(steady, (_, j) => (places[first + j] - places[first]) / apart);
    const last = first + steady.length;
    const low = first === 0 ? 0 : SHARED / 2;
    const high = last === places.length ? steady.length : steady.length - SHARED / 2;
    const at = (j: number) => places[first + Math.max(0, Math.min(steady.length - 1, j))];
    const isOwn = (middle: number) => middle >= low && middle < high;
    const found = findChanges(times, steady, usualNoise);
    const greatest = found.reduce((one, other) => (other.size > one.size ? other : one), NO_CHANGE);
    const noiseOfSides = noiseBeside(steady, usualNoise, greatest.after);
    const [noise, changes] = noiseOfSides
      ? [noiseOfSides, findChanges(times, steady, noiseOfSides)]
      : [usualNoise, found];
    const ofChange = (change: Change): Stretch => {
      const wide = change.lastWithin >= change.firstWithin ? 1 : 0;
      return {
        before: at(change.before - wide),
        firstWithin: at(change.firstWithin),
        lastWithin: at(change.lastWithin),
        after: at(change.after + wide),
        size: change.size,
        noise,
      };
    };
    const own = changes.filter(({ before, after }) => isOwn((before + after) / 2));
    scan.stretches.push(...own.map(ofChange));
    const { lasting, others, isRestless } = splitRestless(changes, steady, noise);
    mayBeRestless ||= isRestless;
    for (const group of lasting) {
      const [from, to] = [group[0].before, group[group.length - 1].before + 1];
      if (!isOwn((from + to) / 2)) continue;
      told.push({
        before: at(from),
        firstWithin: at(from + 1),
        lastWithin: at(to - 1),
        after: at(to),
        size: Math.max(...group.map(({ from, to, value }) => Math.abs(to - from) / noise[value])),
        noise,
        lasting: { changes: group, reference },
      });
    }
    for (const change of others)
      if (isOwn((change.before + change.after) / 2))
        told.push({ ...ofChange(change), ...(isRestless && { amidRestless: true }) });
    const ofDifference = noise.map((value) => value * Math.SQRT2);
    for (let j = first === 0 ? 1 : SHARED; j < steady.length; j++)
      scan.activity.push({
        place: places[first + j],
        strength: changeStrength(steady[j - 1], steady[j], ofDifference, grid),
      });
    return noise.slice(0, grid.cells).sort()[Math.floor(0.9 * (grid.cells - 1))];
  }
}

/** Median descriptor of a few of them, in the light of the middle one. */
function referenceOf(descriptors: readonly Float64Array[], grid: CellGrid): Float64Array {
  const middle = descriptors[descriptors.length >> 1];
  const step = Math.max(1, Math.floor(descriptors.length / 33));
  const some = descriptors.filter((_, j) => j % step === 0);
  const steady = some.map((values) => inLightOf(values, middle, grid));
  return middle.map((_, k) => median(steady.map((values) => values[k])));
}

/** Stretches in order, those closer together than so many frames as one, but what lasts amid restlessness alone. */
export function joinStretches(stretches: readonly Stretch[], closer: number): Stretch[] {
  const joined: Stretch[] = [];
  for (const next of [...stretches].sort((a, b) => a.before - b.before || a.after - b.after)) {
    const last = joined[joined.length - 1];
    if (!last || next.lasting || last.lasting || next.before - last.after >= closer) {
      joined.push(next);
      continue;
    }
    const surer = next.size > last.size ? next : last;
    const ends = next.after > last.after ? next : last;
    joined[joined.length - 1] = {
      before: last.before,
      firstWithin: Math.min(last.firstWithin, next.firstWithin),
      lastWithin: Math.max(last.lastWithin, next.lastWithin),
      after: ends.after,
      size: surer.size,
      noise: surer.noise,
      ...((last.amidRestless || next.amidRestless) && { amidRestless: true }),
    };
  }
  return joined;
}

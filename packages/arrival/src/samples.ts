import { median } from "@frontpace/fit";
import type { ArrivalMap, Point } from "./types.js";

/** Arrivals as points, from the middle of the picture and the middle of the times. */
export interface Samples {
  /** px, shape (N,) */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** frames, shape (N,) */
  readonly time: Float64Array;
  /** 1 / frames², shape (N,) */
  readonly weight: Float64Array;
  /** What was taken off. */
  readonly middle: Point;
  readonly middleTime: number;
  /** Times between which arrivals can be told, from the middle time. */
  readonly earliest: number;
  readonly latest: number;
  /** Half the diagonal of the picture, px. */
  readonly reach: number;
  /** Edge of a cell, px. */
  readonly cell: number;
}

/** Arrivals of all cells that have one. Weights do not rise where uncertainties are far below the usual, for neighbours err together. */
export function samplesOf(map: ArrivalMap): Samples {
  const { arrival, standardUncertainty, cell, rows, columns } = map;
  const places = Array.from(arrival.keys()).filter((i) => !Number.isNaN(arrival[i]));
  const middle: Point = [(columns * cell - 1) / 2, (rows * cell - 1) / 2];
  const middleTime = places.length === 0 ? 0 : median(places.map((i) => arrival[i]));
  const usual = places.length === 0 ? 1 : median(places.map((i) => standardUncertainty[i])) ** 2 + 1e-12;
  return {
    x: Float64Array.from(places, (i) => ((i % columns) + 0.5) * cell - 0.5 - middle[0]),
    y: Float64Array.from(places, (i) => (Math.floor(i / columns) + 0.5) * cell - 0.5 - middle[1]),
    time: Float64Array.from(places, (i) => arrival[i] - middleTime),
    weight: Float64Array.from(places, (i) => 1 / (usual + standardUncertainty[i] ** 2)),
    middle,
    middleTime,
    earliest: map.earliest - middleTime,
    latest: map.latest - middleTime,
    reach: Math.hypot(columns, rows) * cell * 0.5,
    cell,
  };
}

/** Medians of the samples in blocks, some `blocks` along the diagonal of the part of the picture that they take up, so that single bad cells have no say in
 *  where a fit starts. */
export function blockMedians(samples: Samples, blocks: number): Samples {
  const { x, y, time, weight, reach, cell } = samples;
  const edge = Math.max(cell, Math.hypot(extentOf(x), extentOf(y)) / blocks);
  const groups = new Map<number, number[]>();
  for (let i = 0; i < x.length; i++) {
    const key = Math.floor((x[i] + reach) / edge) * 1000 + Math.floor((y[i] + reach) / edge);
    const group = groups.get(key);
    if (group) group.push(i);
    else groups.set(key, [i]);
  }
  const usual = median(Array.from(groups.values(), (group) => group.length));
  const kept = Array.from(groups.values()).filter((group) => group.length >= usual / 4);
  const of = (values: Float64Array) =>
    Float64Array.from(kept, (group) => group.reduce((sum, i) => sum + values[i], 0) / group.length);
  return {
    ...samples,
    x: of(x),
    y: of(y),
    time: Float64Array.from(kept, (group) => median(group.map((i) => time[i]))),
    weight: of(weight),
  };
}

function extentOf(values: Float64Array): number {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return Math.max(0, most - least);
}

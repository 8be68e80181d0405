import { erf, fitNonlinear, median } from "@frontpace/fit";

/** Brightness by frame and radius, averaged over the rays of a front that is a circle. */
export interface RadialStreak {
  /** Row-major, shape [frames, radii], radii 1 px apart. */
  readonly data: Float64Array;
  readonly shape: readonly [frames: number, radii: number];
  /** Times of the frames, counted in frame numbers, increasing. */
  readonly times: readonly number[];
  /** About when the front was at the radius of each column, counted likewise, shape (radii,): NaN where that is not known. */
  readonly arrival: readonly number[];
  /** As of an arrival map. */
  readonly kind: "stays" | "passes";
}

export interface RadialPosition {
  /** Place of the frame in the list of times. */
  readonly index: number;
  /** Columns of the streak, px. */
  readonly position: number;
  readonly standardUncertainty: number;
  /** Standard deviation of the edge or of the ring, its smear in the frame included, px. */
  readonly blur: number;
  /** Of the edge as a part of the step, of a ring in samples: negative where it is darker than what it runs through. */
  readonly height: number;
}

/** Levels are those of frames in which the front is farther away than this, px. */
const FAR = 8;
/** Fewest frames of a level. */
const LEVEL_FRAMES = 3;
/** A profile is fitted so far to either side of where the front is expected, px, and steps of it. */
const REACH = { px: 10, steps: 2.5 };
const FEWEST = 8;
/** An edge or ring stands this many of its standard uncertainties out of the noise. */
const SEEN = 5;
/** px; a position that is less sure is none. */
const SURE = 1;
/** So many robust standard deviations from its neighbours a position is none. */
const ASIDE = 6;
const NEIGHBOURS = 3;

/** Positions of a circular front in every frame by its own radial profile: an edge (where the front stays) between the levels before and after, or
 *  a ring (where it passes) over the level without it, each a Gaussian's. The light of the frame, the height, the width and the place
 *  are free. Says nothing of the course between frames: the front may run ever slower.
 *  @throws RangeError where shape, times and arrivals do not fit together */
export function radialPositions(streak: RadialStreak): RadialPosition[] {
  const { data, shape, times, arrival } = streak;
  const [frames, radii] = shape;
  if (data.length !== frames * radii || times.length !== frames || arrival.length !== radii)
    throw new RangeError(
      `data, times and arrival must be of ${frames} frames and ${radii} radii, got ${data.length}, ${times.length} and ${arrival.length}`,
    );
  const levels = levelsOf(streak);
  const found = times.flatMap((time, index) => {
    const expected = placeAt(arrival, time);
    return expected === null ? [] : (positionIn(streak, levels, index, expected) ?? []);
  });
  const correlation = Math.min(0.9, Math.max(0, median(found.map((one) => one.correlation))));
  const alike = found.length > 0 ? Math.sqrt((1 + correlation) / (1 - correlation)) : 1;
  const sure = found
    .map((one) => ({ ...one, standardUncertainty: one.standardUncertainty * alike }))
    .filter(({ standardUncertainty }) => standardUncertainty < SURE);
  return sure
    .filter((one) => isAmong(one, sure))
    .map(({ aside: _, correlation: __, ...position }) => position);
}

interface Levels {
  /** Before the front, or without it where it passes; NaN where there are too few frames. */
  readonly before: Float64Array;
  /** After it less that before; 1 where it passes. */
  readonly step: Float64Array;
}

function levelsOf({ data, shape: [frames, radii], times, arrival, kind }: RadialStreak): Levels {
  const before = new Float64Array(radii).fill(Number.NaN);
  const step = new Float64Array(radii).fill(Number.NaN);
  for (let r = 0; r < radii; r++) {
    const away = 1 + FAR * slownessAt(arrival, r);
    const sums = [0, 0];
    const counts = [0, 0];
    for (let k = 0; k < frames; k++) {
      const since = times[k] - arrival[r];
      if (!(Math.abs(since) > away)) continue;
      const side = since > 0 ? 1 : 0;
      sums[side] += data[k * radii + r];
      counts[side]++;
    }
    if (kind === "passes") {
      if (counts[0] + counts[1] < LEVEL_FRAMES) continue;
      before[r] = (sums[0] + sums[1]) / (counts[0] + counts[1]);
      step[r] = 1;
    } else if (Math.min(...counts) >= LEVEL_FRAMES) {
      before[r] = sums[0] / counts[0];
      step[r] = sums[1] / counts[1] - before[r];
    }
  }
  return { before, step };
}

/** Frames a px, at least 0. */
function slownessAt(arrival: readonly number[], r: number): number {
  const [a, b] = [Math.max(0, r - 1), Math.min(arrival.length - 1, r + 1)];
  return Math.max(0, (arrival[b] - arrival[a]) / (b - a));
}

/** Column at which the front is expected; null where it is outside. */
function placeAt(arrival: readonly number[], time: number): number | null {
  for (let r = 0; r + 1 < arrival.length; r++)
    if (arrival[r] <= time && time < arrival[r + 1])
      return r + (time - arrival[r]) / (arrival[r + 1] - arrival[r]);
  return null;
}

interface Found extends RadialPosition {
  /** How far from where the front was expected, px. */
  readonly aside: number;
  /** Lag-one correlation of the residuals. */
  readonly correlation: number;
}

function positionIn(
  { data, shape: [, radii], arrival, kind }: RadialStreak,
  { before, step }: Levels,
  index: number,
  expected: number,
): Found | null {
  const speed = 1 / Math.max(1e-3, slownessAt(arrival, Math.round(expected)));
  const reach = Math.max(REACH.px, REACH.steps * Math.min(speed, REACH.px));
  const columns: number[] = [];
  for (let r = Math.max(0, Math.ceil(expected - reach)); r < radii && r <= expected + reach; r++)
    if (!Number.isNaN(before[r])) columns.push(r);
  if (columns.length < FEWEST) return null;
  const values = columns.map((r) => data[index * radii + r]);
  const profile = (parameters: readonly number[]) => {
    const [place, width, light, height] = parameters;
    const allowed = width > 0.2 && width < reach;
    const share = columns.map((r) => {
      const z = (place - r) / width;
      return kind === "passes" ? Math.exp((-z * z) / 2) : 0.5 + 0.5 * erf(z / Math.SQRT2);
    });
    const slope = columns.map((r, k) => {
      const z = (place - r) / width;
      return kind === "passes" ? -z * share[k] : Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    });
    return {
      values: columns.map((r, k) => (allowed ? light * before[r] + height * step[r] * share[k] : Number.NaN)),
      derivatives: [
        columns.map((r, k) => (height * step[r] * slope[k]) / width),
        columns.map((r, k) => (-height * step[r] * slope[k] * ((place - r) / width)) / width),
        columns.map((r) => before[r]),
        columns.map((r, k) => step[r] * share[k]),
      ],
    };
  };
  const fits = [-0.4, 0, 0.4].flatMap((part) => {
    const nearest = columns.reduce(
      (best, r, k) =>
        Math.abs(r - expected - part * reach) < Math.abs(columns[best] - expected - part * reach) ? k : best,
      0,
    );
    const height = kind === "passes" ? values[nearest] - before[columns[nearest]] : 1;
    const fit = fitNonlinear(profile, values, [expected + part * reach, 2, 1, height || 1], {
      mostSteps: 60,
    });
    return fit ? [fit] : [];
  });
  if (fits.length === 0) return null;
  const best = fits.reduce((a, b) => (b.chiSquared < a.chiSquared ? b : a));
  const [position, blur, , height] = best.parameters;
  const [from, to] = [columns[0], columns[columns.length - 1]];
  // Half of an edge or ring tells its place by its height.
  if (!(position - from > blur && to - position > blur)) return null;
  if (kind === "stays" && !(height > 0.5 && height < 2)) return null;
  const variance = best.chiSquared / Math.max(1, columns.length - 4);
  if (!(Math.abs(height) > SEEN * Math.sqrt(variance * best.unscaledCovariance[3][3]))) return null;
  const standardUncertainty = Math.sqrt(variance * best.unscaledCovariance[0][0]);
  if (!Number.isFinite(standardUncertainty)) return null;
  const { residuals } = best;
  const products = residuals.reduce((sum, r, k) => sum + (k > 0 ? r * residuals[k - 1] : 0), 0);
  return {
    index,
    position,
    blur,
    height,
    standardUncertainty,
    aside: position - expected,
    correlation: best.chiSquared > 0 ? products / best.chiSquared : 0,
  };
}

/** Whether a position lies as far from the expected course as those beside it. */
function isAmong(one: Found, all: readonly Found[]): boolean {
  const at = all.indexOf(one);
  const near = all.filter((_, k) => k !== at && Math.abs(k - at) <= NEIGHBOURS).map(({ aside }) => aside);
  if (near.length < 2) return false;
  const middle = median(near);
  const spread = 1.4826 * median(near.map((aside) => Math.abs(aside - middle)));
  return Math.abs(one.aside - middle) <= ASIDE * Math.hypot(spread, one.standardUncertainty) + 0.5;
}

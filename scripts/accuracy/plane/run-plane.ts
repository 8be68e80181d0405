import { CASES, type Case } from "./draw-plane.js";
import { type Miss, type PlaneOutcome, tryPlanes } from "./try-plane.js";

interface Bars {
  /** Root mean square, relative; degrees; px; of an exponent. */
  readonly speed?: number;
  readonly angle?: number;
  readonly origin?: number;
  readonly exponent?: number;
  /** Largest share of takes of the wrong shape. */
  readonly wrong?: number;
}

const BARS: Readonly<Record<Case, Bars>> = {
  "straight, clean": { speed: 3e-4, angle: 0.02, wrong: 0.02 },
  "straight, 5 % of frames missing": { speed: 1e-3, wrong: 0.02 },
  "straight, flicker of 8 %": { speed: 2e-3, wrong: 0.02 },
  "straight, four times the noise": { speed: 1.5e-3, wrong: 0.02 },
  "circle, clean": { speed: 5e-4, origin: 0.05, wrong: 0.02 },
  "circle, a third outside": { speed: 1e-3, origin: 0.3, wrong: 0.02 },
  "circle, a sector hidden": { speed: 1e-3, origin: 0.3, wrong: 0.02 },
  "circle, 5 % of frames missing": { speed: 4e-3, wrong: 0.02 },
  "circle, flicker of 8 %": { speed: 4e-3, wrong: 0.02 },
  "jagged by 3 px": { speed: 0.015 },
  "faint: a third of the noise": { speed: 2e-3 },
  "two half-planes": { speed: 5e-3 },
  "nothing moves, flicker": { wrong: 0.01 },
  "nothing moves, drift of the light": { wrong: 0.01 },
  "nothing moves, shake": { wrong: 0.01 },
  "thin ring, R as t^n": { exponent: 2e-3, wrong: 0.02 },
  "filled circle, R as t^n": { exponent: 2e-3, wrong: 0.02 },
};
const COVERAGE = [0.93, 0.97] as const;
/** A bar is judged where the trial's own scatter leaves three standard deviations of room (common practice, no source). */
const SURE = 3;
export const FULL_PLANE = 1000;

/** Prints the table of fronts in the plane.
 *  @param only  part of the name of a row; null: all of them
 *  @returns how many bars were missed */
export async function runPlane(takes: number, first: number, only: string | null): Promise<number> {
  let missed = 0;
  console.log(
    "case | takes | speed, rms | angle, rms | origin, rms | exponent, rms | 95 % intervals that hold | right shape",
  );
  for (const kind of CASES.filter((name) => only === null || name.includes(only))) {
    const block = first + 1_000_000 * CASES.indexOf(kind);
    const outcomes = await tryPlanes(Array.from({ length: takes }, (_, k) => ({ kind, seed: block + k })));
    const { row, failures } = judge(kind, outcomes);
    console.log(row);
    for (const failure of failures) console.log(`    missed: ${failure}`);
    for (const { seed, shape, reason } of outcomes.filter(({ isRight }) => !isRight).slice(0, 3))
      console.log(`    seed ${seed}: ${shape}; ${reason}`);
    missed += failures.length;
  }
  return missed;
}

function judge(kind: Case, outcomes: readonly PlaneOutcome[]): { row: string; failures: string[] } {
  const bars = BARS[kind];
  const failures: string[] = [];
  const told = outcomes.filter(({ isRight }) => isRight);
  const speeds = told.flatMap(({ speed }) => speed ?? []);
  const angles = told.flatMap(({ angle }) => angle ?? []);
  const origins = told.flatMap(({ origin }) => origin);
  const exponents = told.flatMap(({ exponent }) => exponent ?? []);
  const hold = (name: string, misses: readonly Miss[], bar?: number) => {
    const value = rms(misses);
    // Root mean squares of N scatter by 1/sqrt(2N) of themselves.
    if (bar !== undefined && value > bar * (1 + SURE / Math.sqrt(2 * misses.length)))
      failures.push(`${name} ${value.toPrecision(3)}, bar ${bar}`);
  };
  hold("speed", speeds, bars.speed);
  hold("angle", angles, bars.angle);
  hold("origin", origins, bars.origin);
  hold("exponent", exponents, bars.exponent);
  const covered = [speeds, angles, origins, exponents].map(coverage);
  for (const { share, count } of covered) {
    const slack = SURE * Math.sqrt((0.95 * 0.05) / Math.max(1, count));
    if (count > 0 && (share < COVERAGE[0] - slack || share > COVERAGE[1] + slack))
      failures.push(`coverage ${percent(share)}`);
  }
  const wrong = outcomes.length - told.length;
  const most = bars.wrong ?? 1;
  if (wrong / outcomes.length > most + SURE * Math.sqrt((most * (1 - most)) / outcomes.length))
    failures.push(`${wrong} of ${outcomes.length} of the wrong shape`);
  const cells = [
    kind,
    outcomes.length,
    speeds.length ? `${(100 * rms(speeds)).toPrecision(2)} %` : "",
    angles.length ? `${rms(angles).toPrecision(2)}°` : "",
    origins.length ? `${rms(origins).toPrecision(2)} px` : "",
    exponents.length ? rms(exponents).toPrecision(2) : "",
    covered.flatMap(({ share, count }) => (count ? percent(share) : [])).join(", "),
    percent(told.length / outcomes.length),
  ];
  return { row: cells.join(" | "), failures };
}

function rms(misses: readonly Miss[]): number {
  return Math.sqrt(misses.reduce((sum, { error }) => sum + error ** 2, 0) / misses.length);
}

function coverage(misses: readonly Miss[]): { share: number; count: number } {
  const judged = misses.filter(({ halfWidth }) => Number.isFinite(halfWidth));
  const held = judged.filter(({ error, halfWidth }) => Math.abs(error) <= halfWidth);
  return { share: held.length / judged.length, count: judged.length };
}

const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

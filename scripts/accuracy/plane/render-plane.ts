import { erf } from "@frontpace/fit";
import type { TakeFrames } from "@frontpace/take";
import ndarray from "ndarray";
import { randomFrom } from "../../random.js";
import { addSpecks } from "../../specks.js";
import { durationOf, type PlaneTake, QUIET } from "./draw-plane.js";

/** Frames of the take, rendered when they are read first. A pixel sees the blurred edge at its centre, its own extent being part of the blur, averaged over
 *  the exposure by three-point Gauss-Legendre. */
export function renderPlane(take: PlaneTake): TakeFrames {
  const { rows, columns, numbers } = take;
  const reached = arrivals(take);
  const texture = textureOf(take);
  const speed = speedAt(take);
  const radiusAt = radiusOf(take);
  const spread = Math.hypot(take.blurPixels, Math.sqrt(1 / 12)) * Math.SQRT2;
  const render = (number: number) => {
    const random = randomFrom(take.seed * 7919 + number);
    const data = new Uint8Array(rows * columns);
    const [dx, dy] = take.shake[number];
    for (let y = 0, at = 0; y < rows; y++)
      for (let x = 0; x < columns; x++, at++) {
        let share = 0;
        if (take.step !== 0)
          for (const [place, weight] of GAUSS) {
            const time = number + (place * take.exposureFraction) / 2;
            share +=
              weight *
              (radiusAt
                ? radiusAt.share((radiusAt.atTime(time) - radiusAt.of(x, y)) / spread)
                : passed(((time - reached[at]) * speed(x)) / spread));
          }
        const level = (take.before + take.step * share) * texture(x + dx, y + dy) * take.light[number];
        data[at] = Math.max(0, Math.min(255, Math.round(level + take.noise * random.normal())));
      }
    return ndarray(data, [rows, columns]);
  };
  const kept = new Map<number, ReturnType<typeof render>>();
  return {
    name: `invented-${take.seed}`,
    numbers,
    rows,
    columns,
    bitDepth: 8,
    async *frames(range = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = range.start ?? 0; index < (range.end ?? numbers.length); index++) {
        const whole = kept.get(index) ?? render(numbers[index]);
        kept.set(index, whole);
        const frame = whole
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: numbers[index], frame };
      }
    },
  };
}

/** A front whose radius follows a power law, by its radius at a time; before its start there is none. */
function radiusOf({ front, numbers }: PlaneTake) {
  if (front.shape !== "power") return null;
  const { origin, coefficient, exponent, isRing } = front;
  const begin = beginOf(numbers, front);
  return {
    atTime: (time: number) =>
      time > begin ? coefficient * (time - begin) ** exponent : Number.NEGATIVE_INFINITY,
    of: (x: number, y: number) => Math.hypot(x - origin[0], y - origin[1]),
    share: isRing ? (z: number) => Math.exp(-z * z) : passed,
  };
}

function beginOf(numbers: PlaneTake["numbers"], front: PlaneTake["front"]): number {
  return Math.max(QUIET, (numbers[numbers.length - 1] - durationOf(front)) / 2);
}

/** Share of the change behind a blurred edge; farther away than this it is complete to single precision. */
function passed(z: number): number {
  return z > 4.5 ? 1 : z < -4.5 ? 0 : 0.5 + 0.5 * erf(z);
}

const GAUSS = [
  [0, 4 / 9],
  [-Math.sqrt(0.6), 5 / 18],
  [Math.sqrt(0.6), 5 / 18],
] as const;

/** True time of arrival at every pixel, row-major. */
export function arrivals(take: PlaneTake): Float64Array {
  const { rows, columns, front } = take;
  const times = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
  const begin = beginOf(take.numbers, front);
  const jag = front.shape === "straight" && front.jag > 0 ? jagged(take, front.jag) : () => 0;
  for (let y = 0, at = 0; y < rows; y++)
    for (let x = 0; x < columns; x++, at++) {
      if (front.shape === "straight") {
        const [nx, ny] = [Math.cos(front.angle), Math.sin(front.angle)];
        const first = Math.min(0, nx * (columns - 1)) + Math.min(0, ny * (rows - 1));
        times[at] =
          begin +
          (nx * x + ny * y - first + jag(nx * x + ny * y, ny * x - nx * y) + 2 * front.jag) / front.speed;
      } else if (front.shape === "halves") {
        const [slow, fast] = front.speeds;
        const half = columns / 2;
        times[at] = begin + Math.min(x, half) / slow + Math.max(0, x - half) / fast;
      } else if (front.shape === "circle") {
        const [ox, oy] = front.origin;
        const angle = Math.atan2(y - oy, x - ox);
        if (take.hidden && isBetween(angle, take.hidden)) continue;
        times[at] = begin + Math.hypot(x - ox, y - oy) / front.speed;
      }
    }
  return times;
}

function isBetween(angle: number, [from, to]: readonly [number, number]): boolean {
  const turn = (((angle - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  return turn < to - from;
}

/** A front's departure from straight: waves some 20 px long along it, which change over some 60 px of its run. */
function jagged({ seed }: PlaneTake, deviation: number): (along: number, across: number) => number {
  const random = randomFrom(seed ^ 0x1b873593);
  const waves = Array.from({ length: 24 }, () => ({
    across: (2 * Math.PI) / random.uniform(12, 40),
    along: (2 * Math.PI * random.normal()) / 120,
    phase: random.uniform(0, 2 * Math.PI),
  }));
  const size = deviation * Math.sqrt(2 / waves.length);
  return (along, across) =>
    size *
    waves.reduce((sum, wave) => sum + Math.cos(wave.across * across + wave.along * along + wave.phase), 0);
}

function speedAt({ front, columns }: PlaneTake): (x: number) => number {
  if (front.shape === "halves") return (x) => front.speeds[x < columns / 2 ? 0 : 1];
  const speed = front.shape === "still" || front.shape === "power" ? 1 : front.speed;
  return () => speed;
}

/** What a place returns of the light: dirt; where the picture shakes, a smooth grain that moves with it. */
function textureOf(take: PlaneTake): (x: number, y: number) => number {
  const { rows, columns, seed, kind } = take;
  const random = randomFrom(seed ^ 0x5bd1e995);
  if (kind.includes("shake")) {
    const waves = Array.from({ length: 40 }, () => ({
      x: random.normal() * 0.5,
      y: random.normal() * 0.5,
      phase: random.uniform(0, 6.3),
    }));
    return (x, y) =>
      waves.reduce((sum, wave) => sum + 0.04 * Math.cos(wave.x * x + wave.y * y + wave.phase), 1);
  }
  const dirt = new Float64Array(rows * columns).fill(1);
  addSpecks(dirt, [rows, columns], random, {
    count: Math.round((rows * columns) / 160),
    depths: [-0.1, 0.35],
    radii: [0.7, 3],
  });
  return (x, y) => dirt[y * columns + x];
}

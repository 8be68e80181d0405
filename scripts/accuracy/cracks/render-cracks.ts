import type { CrackSource, Point } from "@frontpace/cracks";
import ndarray from "ndarray";
import { randomFrom } from "../../random.js";

/** A crack as drawn: its course, and how far its tip has run in a frame. */
export interface DrawnCrack {
  readonly course: readonly Point[];
  /** px along the course at a time counted in frames. */
  length(time: number): number;
}

export interface CrackScene {
  readonly rows: number;
  readonly columns: number;
  readonly count: number;
  readonly cracks: readonly DrawnCrack[];
  /** Depth of a crack in the middle, in samples; negative: dark. */
  readonly depth: number;
  /** Standard deviation of the noise of a sample. */
  readonly noise: number;
  /** Of the noise. Default: 1. */
  readonly seed?: number;
  /** Standard deviation of a crack across, px. Default: 1. */
  readonly width?: number;
}

const LEVEL = 120;
const SHARPNESS = 0.7;

/** Frames in which cracks open: every pixel is as deep as the nearest of the courses makes it. */
export function renderCracks(scene: CrackScene): CrackSource {
  const { rows, columns, count, cracks, depth, noise, width = 1 } = scene;
  const near = cracks.map(({ course }) => nearest(course, rows, columns));
  const random = randomFrom(scene.seed ?? 1);
  const frames = Array.from({ length: count }, (_, k) => {
    const data = new Float32Array(rows * columns);
    const tips = cracks.map(({ length }) => length(k));
    for (let i = 0; i < data.length; i++) {
      let shown = 0;
      for (let c = 0; c < cracks.length; c++) {
        const { distance, along } = near[c];
        if (distance[i] > 5 * width) continue;
        const open = 1 / (1 + Math.exp((along[i] - tips[c]) / SHARPNESS));
        shown = Math.max(shown, open * Math.exp(-0.5 * (distance[i] / width) ** 2));
      }
      data[i] = LEVEL + depth * shown + noise * random.normal();
    }
    return data;
  });
  return {
    numbers: frames.map((_, k) => k),
    rows,
    columns,
    async *frames({ start = 0, end = count } = {}) {
      for (let index = start; index < end; index++)
        yield { index, number: index, frame: ndarray(frames[index], [rows, columns]) };
    },
  };
}

/** A course through points, fifty of them. */
export function courseOf(at: (share: number) => Point): readonly Point[] {
  return Array.from({ length: 51 }, (_, k) => at(k / 50));
}

export function lengthOf(course: readonly Point[]): number {
  return course.slice(1).reduce((sum, [x, y], k) => sum + Math.hypot(x - course[k][0], y - course[k][1]), 0);
}

function nearest(course: readonly Point[], rows: number, columns: number) {
  const distance = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
  const along = new Float64Array(rows * columns);
  let before = 0;
  for (let k = 1; k < course.length; k++) {
    const [[x1, y1], [x2, y2]] = [course[k - 1], course[k]];
    const length = Math.hypot(x2 - x1, y2 - y1);
    const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length];
    for (let i = 0; i < distance.length; i++) {
      const [px, py] = [(i % columns) - x1, Math.floor(i / columns) - y1];
      const share = Math.min(length, Math.max(0, px * ux + py * uy));
      const away = Math.hypot(px - share * ux, py - share * uy);
      if (away < distance[i]) {
        distance[i] = away;
        along[i] = before + share;
      }
    }
    before += length;
  }
  return { distance, along };
}

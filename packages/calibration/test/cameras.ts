import { type Camera, project, type Target } from "../../../scripts/calibration/render-target.js";
import type { Correspondence } from "../src/plane/check-points.js";
import type { Point } from "../src/types.js";

export const board: Target = { kind: "corners", along: 9, across: 6, pitch: 0.01 };
export const dotted: Target = { kind: "dots", along: 7, across: 5, pitch: 0.012 };

/** A camera 300 mm from the invented target, looking square onto it. */
export const square: Camera = {
  columns: 480,
  rows: 320,
  focalPixels: 900,
  axisPixels: [239.5, 159.5],
  k1: 0,
  k2: 0,
  turnDegrees: [0, 0, 0],
  place: [-0.04, -0.025, 0.3],
};

export const oblique: Camera = { ...square, turnDegrees: [25, -20, 12], place: [-0.03, -0.03, 0.3] };

/** The points of a target as a camera shows them, rows one after the other, each moved by `noise`. */
export function seenPoints(camera: Camera, target: Target, noise: () => number = () => 0): Correspondence[] {
  return Array.from({ length: target.along * target.across }, (_, n) => {
    const plane: Point = [(n % target.along) * target.pitch, Math.floor(n / target.along) * target.pitch];
    const [x, y] = project(camera, ...plane);
    return { plane, pixel: [x + noise(), y + noise()] };
  });
}

/** Largest distance of points from others, px. */
export function furthest(points: readonly Point[], others: readonly Point[]): number {
  return Math.max(...points.map(([x, y], n) => Math.hypot(x - others[n][0], y - others[n][1])));
}

export function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

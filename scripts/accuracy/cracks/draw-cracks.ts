import type { Point } from "@frontpace/cracks";
import { type Random, randomFrom } from "../../random.js";
import { type CrackScene, type DrawnCrack, lengthOf } from "./render-cracks.js";

/** A crack that branches, drawn from a seed, and the truth of every branch. */
export interface CrackTake {
  readonly scene: CrackScene;
  readonly branches: readonly DrawnBranch[];
}

export interface DrawnBranch {
  readonly course: readonly Point[];
  /** px a frame along the course. */
  readonly speed: number;
}

const ROWS = 180;
const COLUMNS = 260;
const NOISE = 2;
const FRAMES_BEFORE = 6;
/** A course is drawn in steps of this, px. */
const STEP = 2;
const SHORTEST = 30;

/** A stem from the left that parts again and again until 3 to 6 tips run, each branch bent, at a constant speed of its own.
 *  @param contrast  depth of a crack over the noise of a pixel */
export function drawCracks(seed: number, contrast: number): CrackTake {
  const random = randomFrom(seed);
  const tips = random.integer(3, 6);
  const drawn: { branch: DrawnBranch; starts: number }[] = [];
  grow([8, ROWS / 2], random.uniform(-0.15, 0.15), Math.PI / 3, tips, FRAMES_BEFORE);
  const ends = drawn.map(({ branch, starts }) => starts + lengthOf(branch.course) / branch.speed);
  const cracks = drawn.map(
    ({ branch, starts }): DrawnCrack => ({
      course: branch.course,
      length: (time) => branch.speed * (time - starts),
    }),
  );
  const count = Math.ceil(Math.max(...ends)) + 10;
  const depth = -contrast * NOISE;
  return {
    scene: { rows: ROWS, columns: COLUMNS, count, cracks, depth, noise: NOISE, seed },
    branches: drawn.map(({ branch }) => branch),
  };

  /** @param room  angle to either side that the branch and those that come of it have to themselves */
  function grow(from: Point, angle: number, room: number, ends: number, starts: number): void {
    const length = ends === 1 ? 150 : random.uniform(45, 75);
    const course = bent(from, angle, length, random);
    const speed = random.uniform(1.5, 5);
    if (lengthOf(course) >= SHORTEST) drawn.push({ branch: { course, speed }, starts });
    if (ends === 1) return;
    const end = course[course.length - 1];
    const passes = starts + lengthOf(course) / speed;
    const one = random.integer(1, ends - 1);
    const spread = room * random.uniform(0.5, 0.7);
    grow(end, angle - spread, room / 2, one, passes);
    grow(end, angle + spread, room / 2, ends - one, passes);
  }
}

/** A course of a curvature of its own, up to the border of the picture. */
function bent([x, y]: Point, angle: number, length: number, random: Random): readonly Point[] {
  const curvature = random.uniform(-2e-3, 2e-3);
  const points: Point[] = [[x, y]];
  for (let along = 0; along < length; along += STEP) {
    const heading = angle + curvature * along;
    const [px, py] = points[points.length - 1];
    const next: Point = [px + STEP * Math.cos(heading), py + STEP * Math.sin(heading)];
    if (next[0] < 6 || next[0] > COLUMNS - 7 || next[1] < 6 || next[1] > ROWS - 7) break;
    points.push(next);
  }
  return points;
}

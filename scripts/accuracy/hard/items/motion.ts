import type { Random } from "../../../random.js";
import type { Item, Scene } from "../scene.js";

/** How the front runs. Truth of the speeds that vary and of pauses: the mean speed between the first and last frames
 *  used, from where the front really was. Truth of wander: the speed that the front was drawn with, without it. */
export const MOTION: readonly Item[] = [
  {
    name: "varying-speed",
    slot: "motion",
    mayRaise: ["speed-not-constant", "residuals-not-random"],
    add(scene) {
      const { random, take } = scene;
      const depth = random.uniform(0.1, 0.4);
      const factors =
        random.uniform() < 0.5
          ? smooth(take.frames, random.logUniform(2, 15), random).map((d) => Math.max(0, 1 + depth * d))
          : steps(take.frames, depth, random);
      // The place in the middle of the way is kept, so that the front is seen in about as many frames.
      const middle = take.frames >> 1;
      const front = new Float64Array(take.frames);
      front[middle] = take.front[middle];
      for (let i = middle + 1; i < take.frames; i++)
        front[i] = front[i - 1] + take.pixelsPerFrame * factors[i];
      for (let i = middle - 1; i >= 0; i--) front[i] = front[i + 1] - take.pixelsPerFrame * factors[i + 1];
      scene.take = { ...take, front };
      scene.truthFromFramesUsed = true;
    },
  },
  {
    name: "pauses",
    slot: "motion",
    base: { leastSeen: 24 },
    mayRaise: ["speed-not-constant", "residuals-not-random", "front-ends"],
    add(scene) {
      const { random } = scene;
      for (let k = random.integer(1, 2); k > 0; k--) pause(scene, random.integer(5, 20));
      scene.truthFromFramesUsed = true;
    },
  },
  wander("wander-walk", (seen, { random, frames }) => {
    // About its own straight line, a random walk over n steps of size s departs by s·sqrt(n / 15).
    const step = Math.sqrt(15 / seen);
    let at = 0;
    return Float64Array.from({ length: frames }, () => {
      at += step * random.normal();
      return at;
    });
  }),
  wander("wander-stick-slip", (_, { random, frames }) => {
    // The front lags by a steady fraction of its way and catches up at once.
    const period = random.uniform(5, 20);
    let phase = random.uniform();
    let length = period;
    return Float64Array.from({ length: frames }, () => {
      phase += 1 / length;
      if (phase >= 1) {
        phase -= 1;
        length = period * random.uniform(0.7, 1.3);
      }
      return Math.sqrt(12) * (0.5 - phase);
    });
  }),
  wander("wander-sine", (seen, { random, frames }) => {
    const period = seen * random.uniform(0.4, 1.5);
    const phase = random.uniform(0, 2 * Math.PI);
    return Float64Array.from(
      { length: frames },
      (_, i) => Math.SQRT2 * Math.sin((2 * Math.PI * i) / period + phase),
    );
  }),
];

/** @param departure  of root mean square 1 over the frames in which the front is seen */
function wander(
  name: string,
  departure: (seen: number, of: { random: Random; frames: number }) => Float64Array,
): Item {
  return {
    name,
    slot: "motion",
    excusedBy: "residuals-not-random",
    add(scene) {
      const { take, random } = scene;
      const size = random.uniform(0.3, 2);
      const { frames } = take;
      const departures = departure(take.seenIn, { random, frames });
      scene.take = { ...take, front: take.front.map((position, i) => position + size * departures[i]) };
    },
  };
}

/** Smoothed random values of standard deviation 1 and about the given correlation time in frames. */
export function smooth(frames: number, time: number, random: Random): Float64Array {
  const reach = Math.ceil(3 * time);
  const white = Float64Array.from({ length: frames + 2 * reach + 1 }, () => random.normal());
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-0.5 * ((k - reach) / time) ** 2),
  );
  const size = Math.sqrt(weights.reduce((sum, w) => sum + w * w, 0));
  return Float64Array.from(
    { length: frames },
    (_, i) => weights.reduce((sum, w, k) => sum + w * white[i + k], 0) / size,
  );
}

/** Fast and slow in turn. */
function steps(frames: number, depth: number, random: Random): Float64Array {
  let sign = random.pick([1, -1] as const);
  let left = random.integer(3, 12);
  return Float64Array.from({ length: frames }, () => {
    if (left-- === 0) {
      sign = sign === 1 ? -1 : 1;
      left = random.integer(3, 12) - 1;
    }
    return 1 + sign * depth;
  });
}

/** The front stands for some frames at a place in the middle of its way; the take is so much longer. */
function pause(scene: Scene, length: number): void {
  const { take, random } = scene;
  const inside = take.numbers.filter((i) => take.front[i] >= 0 && take.front[i] <= take.along - 1);
  const at = inside[Math.floor(inside.length * random.uniform(0.2, 0.8))];
  const frames = take.frames + length;
  const front = Float64Array.from(
    { length: frames },
    (_, i) => take.front[i <= at ? i : Math.max(at, i - length)],
  );
  scene.take = { ...take, frames, front, numbers: Array.from(front, (_, i) => i) };
}

import type { Item, Scene, Stored } from "../scene.js";

/** What is stored under which number. */
export const TIMING: readonly Item[] = [
  {
    name: "missing-numbers",
    inStill: true,
    add(scene) {
      const share = scene.random.uniform(0.05, 0.2);
      const lost = Array.from({ length: 2 * scene.take.frames + 200 }, () => scene.random.uniform() < share);
      scene.kept = (number) => !lost[number];
    },
  },
  {
    // Each extra copy delays all later frames.
    name: "duplicate-extra",
    slot: "timing",
    inStill: true,
    mayRaise: ["duplicate-frames"],
    add(scene) {
      const doubled = someSeen(scene);
      scene.stored = plain(scene.take.frames).flatMap((frame) =>
        doubled.has(frame.a) ? [frame, frame] : [frame],
      );
    },
  },
  {
    // The copy stands in place of a frame that was lost.
    name: "duplicate-in-place",
    slot: "timing",
    inStill: true,
    mayRaise: ["duplicate-frames"],
    add(scene) {
      const replaced = someSeen(scene);
      scene.stored = plain(scene.take.frames).map((frame) =>
        replaced.has(frame.a) && frame.a > 0 ? moment(frame.a - 1) : frame,
      );
    },
  },
  {
    name: "converted-copies",
    slot: "timing",
    noSpeed: "interpolated-export",
    add(scene) {
      const every = scene.random.integer(2, 6);
      const first = scene.random.integer(0, every - 1);
      // Of each `every` stored frames one is a copy of that before it.
      scene.stored = plain(scene.take.frames).flatMap((frame) =>
        (frame.a + first) % (every - 1) === 0 ? [frame, frame] : [frame],
      );
    },
  },
  {
    name: "converted-blends",
    slot: "timing",
    noSpeed: "interpolated-export",
    add(scene) {
      const ratio = scene.random.pick([24 / 30, 25 / 30, 24 / 25, 1 / 2, 24 / 60] as const);
      const { frames } = scene.take;
      const begin = scene.random.uniform();
      scene.stored = Array.from({ length: Math.floor((frames - 2) / ratio) }, (_, k) => {
        const time = begin + k * ratio;
        const a = Math.floor(time + 1e-9);
        return { a, b: a + 1, share: Math.max(0, time - a) };
      });
    },
  },
];

function moment(i: number): Stored {
  return { a: i, b: i, share: 0 };
}

function plain(frames: number): Stored[] {
  return Array.from({ length: frames }, (_, i) => moment(i));
}

/** One to three frames in which the front is seen; any frames where nothing runs. */
function someSeen({ take, random, still }: Scene): Set<number> {
  const seen = Array.from(take.front.keys()).filter(
    (i) => still || (take.front[i] >= 0 && take.front[i] <= take.along - 1),
  );
  return new Set(Array.from({ length: random.integer(1, 3) }, () => random.pick(seen)));
}

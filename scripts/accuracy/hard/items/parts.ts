import { edgeTable } from "../../edge-table.js";
import { type Item, passage } from "../scene.js";

/** Which part of the picture the front runs through, in how many frames, and what else runs there. */
export const PARTS: readonly Item[] = [
  ...[3, 5, 8, 12, 16].map(
    (seen): Item => ({
      name: `few-frames-${seen}`,
      slot: "parts",
      base: { seen },
      mayRaise: ["few-frames"],
      add() {},
    }),
  ),
  {
    name: "starts-inside",
    slot: "parts",
    base: { leastSeen: 40 },
    add(scene) {
      const { take, random } = scene;
      const first = Math.max(0, take.front[0]);
      const last = Math.min(take.along - 1, take.front[take.frames - 1]);
      scene.beginsAt = first + (last - first) * random.uniform(0.1, 0.5);
    },
  },
  {
    // The front leaves the path by its side before the end, or is long gone when the take ends.
    name: "leaves-early",
    slot: "parts",
    base: { leastSeen: 40 },
    mayRaise: ["front-leaves", "front-ends"],
    add(scene) {
      const { take, random } = scene;
      const first = Math.max(0, take.front[0]);
      const last = Math.min(take.along - 1, take.front[take.frames - 1]);
      if (random.uniform() < 0.5) {
        scene.endsAt = first + (last - first) * random.uniform(0.5, 0.9);
        return;
      }
      const frames = take.frames + random.integer(20, 60);
      const front = Float64Array.from({ length: frames }, (_, i) => take.front[0] + take.pixelsPerFrame * i);
      const gone = Math.ceil((take.along + 10 - take.front[0]) / take.pixelsPerFrame);
      const length = Math.min(frames, 150, gone + 40);
      scene.take = {
        ...take,
        frames: length,
        front: front.slice(0, length),
        numbers: Array.from({ length }, (_, i) => i),
      };
    },
  },
  {
    name: "part-width",
    add(scene) {
      const { take, random } = scene;
      const rows = Math.max(2, Math.round(take.across * random.uniform(0.4, 0.8)));
      const first = random.integer(0, take.across - rows);
      scene.inRow = (r) => r >= first && r < first + rows;
    },
  },
  {
    name: "several-fronts",
    slot: "parts",
    base: { leastSeen: 25 },
    noSpeed: "several-fronts",
    add(scene) {
      const { take, random } = scene;
      const kind = random.pick(["slower", "opposite", "later"] as const);
      const size = take.polarity * take.step * random.uniform(0.5, 1) * random.pick([1, 1, -1] as const);
      const { along } = take;
      const entered = Math.max(0, passage(take)(0));
      const left = Math.min(take.frames - 1, passage(take)(along - 1));
      const span = left - entered;
      // Position of the second front in frame i.
      const speed =
        kind === "later"
          ? take.pixelsPerFrame
          : kind === "opposite"
            ? -take.pixelsPerFrame * random.uniform(0.5, 1.5)
            : take.pixelsPerFrame * random.uniform(0.4, 0.75);
      const lag =
        kind === "later" ? Math.max(10, span * random.uniform(0.3, 0.5)) : span * random.uniform(0, 0.2);
      const begin = entered + lag;
      const from =
        speed > 0 ? Math.max(-0.5, take.front[0]) : Math.min(along - 0.5, take.front[take.frames - 1]);
      const edge = edgeTable(take.blurPixels, Math.abs(speed) * take.exposureFraction);
      scene.layers.push((i, r, p) => {
        if (!scene.inRow(r)) return 0;
        const at = from + speed * (i - begin);
        // Where it begins inside the picture, nothing changes behind its beginning.
        const behind =
          speed > 0 ? edge.value(at - p) - edge.value(from - p) : edge.value(p - at) - edge.value(p - from);
        return size * Math.max(0, behind);
      });
      // Both are seen for long: the take runs on until the second has had as many frames as the first.
      const frames = Math.min(200, Math.max(take.frames, Math.ceil(begin + span)));
      const front = Float64Array.from({ length: frames }, (_, i) =>
        i < take.frames
          ? take.front[i]
          : take.front[take.frames - 1] + take.pixelsPerFrame * (i - take.frames + 1),
      );
      scene.take = { ...take, frames, front, numbers: Array.from(front, (_, i) => i) };
    },
  },
];

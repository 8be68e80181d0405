import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { blendedFront } from "../../src/timing/blended-front.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const POSITIONS = 120;

/** Pixels of ink in the seven columns of the digits 0 to 9. */
const INK = [
  [0, 6, 2, 2, 2, 2, 6],
  [0, 0, 1, 1, 8, 0, 0],
  [0, 2, 3, 3, 3, 4, 3],
  [0, 1, 2, 2, 3, 5, 5],
  [0, 1, 3, 2, 2, 8, 1],
  [0, 2, 4, 3, 3, 3, 4],
  [0, 3, 6, 3, 3, 3, 5],
  [0, 1, 2, 3, 3, 4, 1],
  [0, 4, 4, 3, 3, 4, 4],
  [0, 4, 3, 3, 3, 7, 3],
];

/** A clip of `count` frames that stand `ratio` frames of their source apart, each a blend of the two about it; compressed after
 *  that, so that noise is its own in every frame. */
function clip(
  ratio: number,
  count: number,
  level: (time: number, position: number) => number,
  noise = (_frame: number) => 0.4,
  positions = POSITIONS,
) {
  const normal = seededNormal(8);
  const data = new Float64Array(count * positions);
  for (let i = 0; i < count; i++) {
    const first = Math.floor(i * ratio + 0.3);
    const part = i * ratio + 0.3 - first;
    for (let p = 0; p < positions; p++)
      data[i * positions + p] =
        (1 - part) * level(first, p) + part * level(first + 1, p) + noise(i) * normal();
  }
  return { data, shape: [count, positions] as const, frameNumbers: frames(count) };
}

const front =
  (speed: number, entry = 6) =>
  (time: number, p: number) =>
    80 + 60 * edge(speed * (time - entry) - p);

describe("blends that only the front shows", () => {
  it.each([
    [1 / 2, 120],
    [4 / 5, 80],
    [2 / 5, 150],
  ])("are told at %f source frames for each of the clip", (ratio, count) => {
    const pattern = blendedFront(clip(ratio, count, front(2.3)));
    expect(pattern).not.toBeNull();
    expect((pattern?.source ?? 0) / (pattern?.every ?? 1)).toBeCloseTo(ratio, 9);
  });

  it("are told as such where every third frame of a recording is missing and the others are numbered on: what runs jumps", () => {
    const kept = clip(1, 60, (time, p) => front(2.3)(time + Math.floor(time / 2), p));
    expect(blendedFront(kept)).not.toBeNull();
    const stripes = clip(
      1,
      60,
      (time, p) => 80 + (Math.floor(p / 7) % 2 ? 60 : 15) * edge(2.3 * (time - 6) - p),
    );
    expect(blendedFront(stripes)).toBeNull();
  });

  it("are told where a compression leaves the still frames after the front next to no noise, and those before it much", () => {
    const noise = (frame: number) => (frame < 140 ? 0.4 : 0.02);
    expect(blendedFront(clip(1 / 2, 175, front(4, 36), noise))).toEqual({ source: 1, every: 2 });
    expect(blendedFront(clip(1, 175, front(2, 72), noise))).toBeNull();
  });

  it("are none where every frame was taken: a front, and one that halts and runs on", () => {
    expect(blendedFront(clip(1, 70, front(2.3)))).toBeNull();
    const halting = (time: number, p: number) =>
      80 + 60 * edge(2.3 * (time < 20 ? time : Math.max(20, time - 9)) - 14 - p);
    expect(blendedFront(clip(1, 90, halting))).toBeNull();
  });

  it.each([5 / 8, 2 / 3])(
    "are none where a front sharper than a pixel runs %f px a frame, and stands at the same places in pixels again and again",
    (speed) => {
      const subPixels = Array.from({ length: 8 }, (_, k) => (k + 0.5) / 8 - 0.5);
      const sharp = (time: number, p: number) =>
        subPixels.reduce((sum, sub) => sum + (80 + 60 * edge((speed * (time - 6) - p - sub) / 0.35)) / 8, 0);
      expect(blendedFront(clip(1, 90, sharp, () => 0.2))).toBeNull();
    },
  );

  it.each([
    [9.2, 18.4],
    [6.4, 32],
    [7.7, 23],
  ])(
    "are none where a front of %f px a frame crosses stripes of glaze, in which alone it shows, %f px apart",
    (speed, pitch) => {
      const striped = (time: number, p: number) =>
        80 + 60 * edge(speed * (time - 6) - p) * (p % pitch < pitch / 2 ? 1 : 0);
      expect(blendedFront(clip(1, 40, striped, undefined, 250))).toBeNull();
    },
  );

  it("are none where a counter that counts by two is written into the picture", () => {
    const counted = (time: number, p: number) => {
      const count = Math.abs(2 * Math.floor(time) - 12);
      const digit = Math.floor(count / 10 ** (3 - Math.floor((p - 12) / 7))) % 10;
      return p < 12 || p >= 40 ? 60 : 60 + 4 * INK[digit][(p - 12) % 7];
    };
    expect(blendedFront(clip(1, 60, counted))).toBeNull();
  });

  it("are none under lamps that ripple with a period of four frames", () => {
    const ripple = (time: number, p: number) =>
      front(2.3)(time, p) * (1 + 0.05 * Math.sin((Math.PI / 2) * time));
    expect(blendedFront(clip(1, 70, ripple))).toBeNull();
  });

  it("cannot be told in a few frames", () => {
    expect(blendedFront(clip(1 / 2, 12, front(6)))).toBeNull();
  });
});

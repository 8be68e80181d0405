import { expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { render, sourceOf } from "../support/render.js";
import { expectCovered, expectRelative, frames, track } from "../support/track.js";

const take = { rows: 16, columns: 400, noise: 2, before: 120, blurPixels: 1.4 };
const alongRow = [
  [2, 8],
  [397, 8],
] as const;

it.each([
  { name: "a dark line, 21.3 px a frame", speed: 21.3, shape: "pulse", step: -60 },
  { name: "a bright line, 9.7 px a frame", speed: 9.7, shape: "pulse", step: 60 },
  { name: "a faint line, 16.4 px a frame", speed: 16.4, shape: "pulse", step: -8 },
  { name: "a bright and a dark one, 28.6 px a frame", speed: 28.6, shape: "pair", step: 60 },
] as const)(
  "a thin line that most positions see in no frame is followed: $name",
  async ({ speed, shape, step }) => {
    for (const seed of [1, 2, 3]) {
      const source = render({
        ...take,
        numbers: frames(Math.ceil(440 / speed)),
        frontAt: (time) => -22.3 + speed * time,
        shape,
        step,
        seed,
      });
      const found = await track(source, { path: alongRow });
      expectCovered(found, speed);
      expectRelative(found.line.slopePixelsPerFrame, speed, 1e-3);
      expect(found.positions.filter(({ used }) => used).length).toBeGreaterThan(0.85 * (400 / speed));
    }
  },
);

it("a thin line whose changes differ along the path by a third is followed", async () => {
  const speed = 17.7;
  const source = render({
    ...take,
    numbers: frames(26),
    frontAt: (time) => -20.9 + speed * time,
    shape: "pulse",
    step: -60,
    dirt: (_, column) => 1 + 0.3 * Math.sin(column / 31),
  });
  const found = await track(source, { path: alongRow });
  expectCovered(found, speed);
  expectRelative(found.line.slopePixelsPerFrame, speed, 1e-3);
});

it("a fragment as thin and fast in a quarter of the width is none", async () => {
  const normal = seededNormal(5);
  const source = sourceOf({ numbers: frames(22), rows: 16, columns: 400 }, (row, column, number) => {
    const behind = -22.3 + 21.3 * number - column;
    const share = row >= 6 && row < 10 ? Math.exp(-0.5 * (behind / 1.4) ** 2) : 0;
    return 120 - 60 * share + 2 * normal();
  });
  const outcome = await trackFront(source, { path: alongRow });
  expect(outcome.status).toBe("not-found");
});

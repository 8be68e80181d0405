import { expect, it } from "vitest";
import { render } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

it.each([
  { name: "bright, 1.37 px a frame", blurPixels: 2, speed: 1.37, columns: 80, step: 80 },
  { name: "bright and slow, 0.6 px a frame", blurPixels: 3, speed: 0.6, columns: 80, step: 80 },
  { name: "bright and fast, 4.2 px a frame", blurPixels: 1.5, speed: 4.2, columns: 190, step: 80 },
  { name: "dark, 2 px a frame", blurPixels: 4, speed: 2, columns: 90, step: -60 },
])("a band that passes and leaves nothing is followed: $name", async ({ speed, columns, step, ...look }) => {
  const frontAt = (time: number) => 5.2 + speed * time;
  for (const exposureFraction of [0, 0.7]) {
    const source = render({
      numbers: frames(50),
      rows: 16,
      columns,
      frontAt,
      shape: "pulse",
      step,
      noise: 2,
      seed: 3,
      exposureFraction,
      ...look,
    });
    const found = await track(source);
    expectCovered(found, speed);
    expectRelative(found.line.slopePixelsPerFrame, speed, 1e-3);
    expect(found.polarity).toBe(step > 0 ? "bright" : "dark");
  }
});

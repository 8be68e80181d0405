import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { type InventedTake, render } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

const WAYS = [
  { way: "right", heading: [1, 0] },
  { way: "left", heading: [-1, 0] },
  { way: "down", heading: [0, 1] },
  { way: "up", heading: [0, -1] },
] as const;
const CASES = WAYS.flatMap(({ way, heading }) =>
  (["bright", "dark"] as const).map((polarity) => ({ way, heading, polarity })),
);

/** Invented: 1.37 px a frame, noise a fortieth of the step. */
function takeOf({ heading, polarity }: (typeof CASES)[number]): InventedTake {
  const [nx, ny] = heading;
  const start = nx + ny > 0 ? 8.3 : 8.3 - 79;
  return {
    numbers: frames(40),
    rows: nx === 0 ? 80 : 24,
    columns: nx === 0 ? 24 : 80,
    heading,
    frontAt: (time) => start + 1.37 * time,
    step: polarity === "bright" ? 80 : -60,
    noise: 2,
    seed: 3,
  };
}

describe("without a path", () => {
  it.each(CASES)("a $polarity front that runs $way is found without being told", async (one) => {
    const found = await track(render(takeOf(one)));
    expect(found.direction).toEqual(one.heading);
    expect(found.polarity).toBe(one.polarity);
    const velocity = (one.heading[0] + one.heading[1]) * 1.37;
    expectCovered(found, velocity);
    expectRelative(found.line.slopePixelsPerFrame, velocity, 1e-3);
  });

  it.each(CASES)("a $polarity front that runs $way is found where its polarity is stated", async (one) => {
    const source = render(takeOf(one));
    expect(await trackFront(source, { polarity: one.polarity })).toMatchObject({ status: "tracked" });
  });

  it.each(CASES)("a $polarity front that runs $way is not found where the other is stated", async (one) => {
    const polarity = one.polarity === "bright" ? "dark" : "bright";
    expect((await trackFront(render(takeOf(one)), { polarity })).status).toBe("not-found");
  });
});

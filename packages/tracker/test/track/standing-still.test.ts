import { describe, expect, it } from "vitest";
import { standingStill } from "../../src/track/standing-still.js";

const SURE = 0.05;

describe("a front stands", () => {
  it("from the frame in which it stops to that before it goes on", () => {
    const way = (frame: number) => 4 * Math.min(frame, 20) + 4 * Math.max(0, frame - 30);
    const stand = standingStill(positionsOn(way, 50), 3.2);
    expect(stand?.from.frame).toBeGreaterThanOrEqual(19);
    expect(stand?.from.frame).toBeLessThanOrEqual(20);
    expect(stand?.to.frame).toBeGreaterThanOrEqual(30);
    expect(stand?.to.frame).toBeLessThanOrEqual(31);
  });

  it("whichever way it runs", () => {
    const way = (frame: number) => 400 - 4 * Math.min(frame, 20) - 4 * Math.max(0, frame - 30);
    expect(standingStill(positionsOn(way, 50), -3.2)?.from.frame).toBeGreaterThanOrEqual(19);
  });

  it.each([
    ["at one speed", (frame: number) => 4 * frame],
    ["at two speeds", (frame: number) => 4 * Math.min(frame, 20) + 1.5 * Math.max(0, frame - 20)],
    ["with a stop of three frames", (frame: number) => 4 * Math.min(frame, 20) + 4 * Math.max(0, frame - 23)],
  ])("nowhere where it runs %s", (_, way) => {
    const positions = positionsOn(way, 50);
    const slope = (way(49) - way(0)) / 49;
    expect(standingStill(positions, slope)).toBeNull();
  });

  it("not where the positions are too unsure to tell", () => {
    const way = (frame: number) => 0.2 * Math.min(frame, 20) + 0.2 * Math.max(0, frame - 30);
    expect(standingStill(positionsOn(way, 50, 0.5), 0.16)).toBeNull();
  });
});

function positionsOn(way: (frame: number) => number, frames: number, standardUncertaintyPixels = SURE) {
  return Array.from({ length: frames }, (_, frame) => ({
    frame,
    positionPixels: way(frame),
    standardUncertaintyPixels,
    residualPixels: 0,
    used: true,
  }));
}

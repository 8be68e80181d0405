import { describe, expect, it } from "vitest";
import { localWindow } from "../../src/changing-levels/local-levels.js";
import { profileReach } from "../../src/model/edge-profile.js";
import type { FrontState } from "../../src/model/front-model.js";

const POSITIONS = 60;

function running(slope: number, from: number, frames: number, blurPixels = 0.6): FrontState {
  return {
    shape: "step",
    sense: slope > 0 ? 1 : -1,
    frontPixels: Float64Array.from({ length: frames }, (_, i) => from + slope * i),
    blurPixels,
    smearPixels: 0,
  };
}

function lengths(window: ReturnType<typeof localWindow>): number[] {
  if (!window) throw new Error("expected a window");
  return Array.from(window.end, (end, p) => end - window.first[p]).filter((length) => length > 0);
}

describe("localWindow", () => {
  it("is as many frames at every position: those in which the front is within its reach, and the margin twice", () => {
    const margin = 5;
    // one px a frame, at whole numbers: 2·floor(reach) + 1 frames are within the reach
    const window = localWindow(running(1, -30, 120), POSITIONS, margin);
    const near = 2 * Math.floor(profileReach(0.6, 0)) + 1;
    expect(lengths(window)).toEqual(Array(POSITIONS).fill(near + 2 * margin));
    for (let p = 0; p < POSITIONS; p++)
      expect((window!.first[p] + window!.end[p] - 1) / 2, `centre at ${p}`).toBe(p + 30);
  });

  it("differs by no more than a frame where the front is between pixels", () => {
    const found = lengths(localWindow(running(0.73, -40.2, 240), POSITIONS, 6));
    expect(found.length).toBe(POSITIONS);
    expect(Math.max(...found) - Math.min(...found)).toBeLessThanOrEqual(1);
  });

  it("is the margin twice about the passage of a front that is within reach of no frame", () => {
    const window = localWindow(running(20, -205.5, 40, 0.15), POSITIONS, 4);
    if (!window) throw new Error("expected a window");
    // fronts at −5.5, 14.5 and 34.5 px in frames 10, 11 and 12
    expect([window.first[5], window.end[5]]).toEqual([11 - 4, 11 + 4]);
    expect([window.first[25], window.end[25]]).toEqual([12 - 4, 12 + 4]);
  });

  it("mirrors where the front runs the other way", () => {
    const there = localWindow(running(1, -30, 120), POSITIONS, 5);
    const back = localWindow(running(-1, POSITIONS - 1 + 30, 120), POSITIONS, 5);
    expect(Array.from(back!.first).reverse()).toEqual(Array.from(there!.first));
    expect(Array.from(back!.end).reverse()).toEqual(Array.from(there!.end));
  });

  it("leaves out positions whose window the take cuts short, and is null where that leaves less than half of the way", () => {
    // Passes position p in frame p + 4 of 68: a window of 9 + 2·margin frames is whole from p = margin on, and up
    // to p = 59 − margin.
    const state = running(1, -4, 68);
    for (const margin of [1, 8, 14]) {
      const window = localWindow(state, POSITIONS, margin);
      const whole = Array.from(window!.end, (end, p) => (end > window!.first[p] ? p : -1)).filter(
        (p) => p >= 0,
      );
      expect(whole[0]).toBe(margin);
      expect(whole.length).toBe(POSITIONS - 2 * margin);
      expect(new Set(lengths(window)).size).toBe(1);
    }
    expect(localWindow(state, POSITIONS, 16)).toBeNull();
  });

  it("is null where the front stays outside the path", () => {
    expect(localWindow(running(1, 200, 50), POSITIONS, 2)).toBeNull();
  });
});

import { describe, expect, it } from "vitest";
import { fitPolynomial, withRowTime } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";

describe("a vertical front on a rolling-shutter camera", () => {
  const rowTime = 1e-3; // of a frame

  it.each([
    ["down", 40, 1],
    ["up", -40, 1],
    ["obliquely", 40, 0.6],
    ["along a row", 40, 0],
  ])("that runs %s is biased by 1/(1 − v ρ s) without the row time, and right with it", (_, v, s) => {
    // The front is at p = v t when its row is read at t = n + ρ s p.
    const n = [0, 1, 2, 3, 4, 5];
    const seen = n.map((frame) => (v * frame) / (1 - v * rowTime * s));
    const apparent = fitPolynomial(n, seen, 1).coefficients[1];
    expectRelative(apparent, v / (1 - v * rowTime * s), 1e-12);
    const timed = fitPolynomial(
      n.map((frame, i) => frame + rowTime * s * seen[i]),
      seen,
      1,
    ).coefficients[1];
    expectRelative(timed, v, 1e-12);
    expectRelative(withRowTime(apparent, rowTime, s).slope, v, 1e-12);
  });

  it("has the slope of the correction as its derivative, and none where the front outruns the rows", () => {
    const h = 1e-4;
    const numeric = (withRowTime(40 + h, rowTime, 1).slope - withRowTime(40 - h, rowTime, 1).slope) / (2 * h);
    expectRelative(withRowTime(40, rowTime, 1).derivative, numeric, 1e-8);
    expect(() => withRowTime(-1100, rowTime, 1)).toThrow(
      "must be slower against the rows than they are read",
    );
  });
});

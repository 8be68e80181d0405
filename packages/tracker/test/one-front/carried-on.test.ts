import { expect, it } from "vitest";
import { carriedOn } from "../../src/one-front/carried-on.js";

it("a frame that does not show the front departs as the nearest that does, and keeps what it was known to depart from that", () => {
  const known = Float64Array.of(4, 1, 0, 0, 2, 2, 7);
  const next = carriedOn([2, 3, 5], [10, 20, 30], known);
  expect(Array.from(next)).toEqual([14, 11, 10, 20, 30, 30, 35]);
});

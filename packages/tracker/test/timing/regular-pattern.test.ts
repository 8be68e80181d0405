import { describe, expect, it } from "vitest";
import { regularPattern } from "../../src/timing/regular-pattern.js";
import { frames } from "../support/track.js";

describe("regularPattern", () => {
  it("finds every fifth frame of 24 made 30, and three of five of 24 made 60", () => {
    expect(regularPattern(frames(40), [5, 10, 15, 20, 25, 30, 35])).toEqual({ copies: 1, every: 5 });
    const threeOfFive = frames(40).filter((k) => k > 0 && [1, 2, 4].includes(k % 5));
    expect(regularPattern(frames(40), threeOfFive)).toEqual({ copies: 3, every: 5 });
  });

  it("keeps the pattern over a gap in the numbers", () => {
    const numbers = frames(43).filter((number) => number < 17 || number > 19);
    const copies = numbers.flatMap((number, i) => (number > 0 && number % 5 === 0 && i > 0 ? [i] : []));
    expect(regularPattern(numbers, copies)).toEqual({ copies: 1, every: 5 });
  });

  it("finds none in copies that come irregularly, nor in three at equal distance", () => {
    expect(regularPattern(frames(40), [3, 9, 16, 20, 27, 33])).toBeNull();
    expect(regularPattern(frames(40), [5, 10, 15, 20])).toBeNull();
    expect(regularPattern(frames(40), [10, 20, 30])).toBeNull();
  });
});

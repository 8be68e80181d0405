import { describe, expect, it } from "vitest";
import { describeShape } from "../src/words/describe-shape.js";
import { frontText } from "../src/words/front-text.js";
import { measured } from "./invented-result.js";

const front = measured.front!;
const circle = { origin: [100, 50], originUncertainty: null, originGiven: false } as const;
const shape = { name: "circle", measuredAlong: "radius", straight: null, circle, reason: "its arrivals" };

describe("the way that a front ran", () => {
  it("is that of the picture along a straight path", () => {
    expect(frontText(front, measured)).toContain("ran right (x 1.00, y 0.00)");
  });

  it.each([
    [[-1, 0], "outwards"],
    [[1, 0], "inwards"],
  ])("is outwards or inwards along the ray of a circle, direction %j: %s", (direction, way) => {
    const path = [
      [90, 50],
      [10, 50],
    ] as const;
    const text = frontText(
      { ...front, direction } as never,
      { shape, take: { ...measured.take, path } } as never,
    );
    expect(text).toContain(`ran ${way}, in frames`);
  });
});

it("an axis a little above the horizontal lies at 0 degrees, not at -0", () => {
  const axes = { ratio: { value: 1.3, standardUncertainty: 0.1 }, angleDegrees: -0.2, differ: true };
  const text = describeShape({
    ...measured,
    shape: { ...shape, circle: { ...circle, axes } },
  } as never).join();
  expect(text).toContain("the longer at 0°");
});

it("a form that moves as a whole runs in its own direction, not in the mean one of its arrivals", () => {
  const found = (value: number) => ({ angleDegrees: { value, standardUncertainty: 0.01 } });
  const form = {
    name: "none",
    measuredAlong: "path",
    circle: null,
    straight: found(24),
    form: found(30),
    reason: "why",
  };
  const [text] = describeShape({ ...measured, shape: form } as never);
  expect(text).toMatch(
    /running as a whole at 30.000 \+- 0.010° from x towards y; followed that way, line by line \(why\)/,
  );
});

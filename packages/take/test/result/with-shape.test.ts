import { describe, expect, it } from "vitest";
import { withShape } from "../../src/result/with-shape.js";
import type { TakeResult } from "../../src/types.js";

type Shape = NonNullable<TakeResult["shape"]>;

const result = { status: "measured", speed: { value: 100 }, warnings: [] } as unknown as TakeResult;
const found = (value: number) => ({ value, standardUncertainty: 0.001 });
/** A circle whose axes are as 1.21 to 1. */
const oval = (differ: boolean, measuredAlong: Shape["measuredAlong"]) =>
  ({
    name: "circle",
    measuredAlong,
    circle: { axes: { ratio: found(1.21), angleDegrees: 30, differ } },
  }) as unknown as Shape;
const codes = (shape: Shape) => withShape(result, shape).warnings.map(({ code }) => code);

describe("the shape of a front", () => {
  it("warns of a speed that differs by direction, with the speeds along both axes", () => {
    const [warning] = withShape(result, oval(true, "radius")).warnings;
    expect(warning.code).toBe("speed-differs-by-direction");
    expect(warning.message).toContain("110 m/s along its longer axis, at 30 degrees");
    expect(warning.message).toContain("90.91 m/s along its shorter one");
  });

  it("warns of an origin that was given and is not the one of the arrivals", () => {
    const about = (x: number, contradicted: boolean, measuredAlong = "radius") =>
      ({
        name: "circle",
        measuredAlong,
        circle: {
          origin: [40, 30],
          speed: found(99),
          aboutFound: { origin: [x, 30], originUncertainty: [0.1, 0.1], speed: found(101), contradicted },
        },
      }) as unknown as Shape;
    const [warning] = withShape(result, about(42, true)).warnings;
    expect(warning.code).toBe("origin-contradicted");
    expect(warning.message).toMatch(
      /lies 2 px from .* 42.00\+-0.1 and 30.00\+-0.1 px.* 99 m\/s about the one given and 101/,
    );
    expect(codes(about(42, false))).toEqual([]);
  });

  it("warns of nothing where the axes of a circle do not differ", () => {
    expect(codes(oval(false, "radius"))).toEqual([]);
  });

  const straightAt = (value: number, name = "straight", measuredAlong = "rows-or-columns") =>
    ({ name, measuredAlong, straight: { angleDegrees: found(value) }, circle: null }) as unknown as Shape;

  it("warns of a front that is not known to run in the direction in which it was followed", () => {
    expect(codes(straightAt(0, "none"))).toEqual(["direction-unsure"]);
    expect(codes(straightAt(30, "none", "path"))).toEqual(["direction-unsure"]);
    const form = { angleDegrees: found(27), speed: found(99) };
    expect(codes({ ...straightAt(30, "none", "path"), form })).toEqual([]);
    expect(codes(straightAt(-69))).toEqual(["direction-unsure"]);
    expect(codes(straightAt(91))).toEqual([]);
    expect(codes(straightAt(-69, "straight", "path"))).toEqual([]);
  });

  it("warns of a circle that was followed along rows or columns", () => {
    expect(codes(oval(false, "rows-or-columns"))).toEqual(["circle-not-followed"]);
  });
});

import { describe, expect, it } from "vitest";
import { tiltInPlane } from "../../src/path/tilt-in-plane.js";

describe("tiltInPlane", () => {
  it("is the tilt of the picture where a pixel is a square", () => {
    expect(Math.abs(tiltInPlane(12, { along: 2e-4, across: 2e-4, cosine: 0 }) - 12)).toBeLessThan(1e-12);
  });

  it("grows where the path is foreshortened: 45 degrees at half the scale across are atan 2", () => {
    const expected = (Math.atan(2) * 180) / Math.PI;
    expect(Math.abs(tiltInPlane(45, { along: 2e-4, across: 1e-4, cosine: 0 }) - expected)).toBeLessThan(
      1e-12,
    );
  });

  it("of a front square to the path in a sheared picture is that of the shear", () => {
    expect(
      Math.abs(tiltInPlane(0, { along: 1, across: 1, cosine: Math.cos(Math.PI / 3) }) - 30),
    ).toBeLessThan(1e-12);
  });
});

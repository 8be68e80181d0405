import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { fitHomography } from "../src/plane/fit-homography.js";
import { fitLens } from "../src/plane/fit-lens.js";
import { mapPoint } from "../src/plane/matrix3.js";
import type { Matrix3, Point } from "../src/types.js";
import { furthest } from "./cameras.js";

interface Fixture {
  readonly opencv: string;
  readonly planeMetres: readonly Point[];
  readonly homography: { readonly pixels: readonly Point[]; readonly toPixels: Matrix3 };
  readonly lens: {
    readonly pixels: readonly (readonly Point[])[];
    readonly axisPixels: Point;
    readonly rmsPixels: number;
    readonly focalPixels: number;
    readonly k1: number;
    readonly k2: number;
  };
}

const file = new URL("fixtures/opencv.json", import.meta.url);
const fixture: Fixture = JSON.parse(await readFile(file, "utf8"));
const pointsOf = (pixels: readonly Point[]) =>
  pixels.map((pixel, n) => ({ pixel, plane: fixture.planeMetres[n] }));

describe(`the same points given to OpenCV ${fixture.opencv}`, () => {
  it("findHomography: maps agree to 2e-4 px, a hundredth of what noise leaves open", () => {
    const { pixels, toPixels } = fixture.homography;
    const fit = fitHomography(pointsOf(pixels));
    const ours = fixture.planeMetres.map((point) => mapPoint(fit.toPixels, point));
    const theirs = fixture.planeMetres.map((point) => mapPoint(toPixels, point));
    // OpenCV ends its refinement after ten steps.
    expect(furthest(ours, theirs)).toBeLessThan(2e-4);
  });

  it("calibrateCamera: k1 and k2 agree within 3 of their standard uncertainties, the residuals within 3 %", () => {
    const { pixels, axisPixels, rmsPixels, focalPixels, k1, k2 } = fixture.lens;
    // OpenCV's unit of length is the focal length. It knows besides that all maps are of one camera.
    const { lens, rmsPixels: rms } = fitLens(pixels.map(pointsOf), axisPixels, focalPixels);
    const [u1, u2] = [Math.sqrt(lens.covariance[0][0]), Math.sqrt(lens.covariance[1][1])];
    expect(Math.abs(lens.k1 - k1)).toBeLessThan(3 * u1);
    expect(Math.abs(lens.k2 - k2)).toBeLessThan(3 * u2);
    expect(u1).toBeLessThan(0.02);
    expect(Math.abs(rms / rmsPixels - 1)).toBeLessThan(0.03);
  });
});

import { describe, expect, it } from "vitest";
import { positionUncertainty, speedUncertainty } from "../src/index.js";

const reading = {
  framesAcross: 40,
  pixelsPerFrame: 10,
  motionBlurPixels: 5,
  edgeBlurPixels: 1,
  stepToNoise: 20,
  rowsAveraged: 15,
};
const ratio = (change: Partial<typeof reading>, of = reading) =>
  speedUncertainty({ ...of, ...change })! / speedUncertainty(of)!;
const close = (a: number, b: number) => expect(Math.abs(a / b - 1)).toBeLessThan(1e-12);

describe("positionUncertainty", () => {
  it("is a sum over pixels of the squared slope of the noiseless edge, to 0.1 %, for widths of 1 to 3 px", () => {
    for (const edgeBlurPixels of [1, 1.5, 2, 3]) {
      // The edge as a sensor sees it: a Gaussian of S² = s² + 1/12, sampled once a pixel at any phase.
      const width = Math.sqrt(edgeBlurPixels ** 2 + 1 / 12);
      let information = 0;
      for (let x = -40.3; x < 40; x++)
        information += (Math.exp(-0.5 * (x / width) ** 2) / (width * Math.sqrt(2 * Math.PI))) ** 2;
      const bound = 1 / 20 / Math.sqrt(15 * information);
      const got = positionUncertainty({ ...reading, edgeBlurPixels, motionBlurPixels: 0 });
      expect(Math.abs(got / bound - 1)).toBeLessThan(1e-3);
    }
  });
});

describe("speedUncertainty", () => {
  it("is that of a least-squares slope through equally spaced, equally sure positions", () => {
    const times = Array.from({ length: 40 }, (_, k) => k - 19.5);
    const squares = times.reduce((sum, t) => sum + t * t, 0);
    close(speedUncertainty(reading)!, positionUncertainty(reading) / Math.sqrt(squares) / 10);
  });

  it("halves with twice the step, and with four times the rows", () => {
    close(ratio({ stepToNoise: 40 }), 0.5);
    close(ratio({ rowsAveraged: 60 }), 0.5);
  });

  it("grows with smear and blur", () => {
    expect(ratio({ motionBlurPixels: 10 })).toBeGreaterThan(1);
    expect(ratio({ edgeBlurPixels: 3 })).toBeGreaterThan(1);
  });

  it("has three times the variance below 20 frames", () => {
    const few = speedUncertainty({ ...reading, framesAcross: 19.999999 })!;
    const enough = speedUncertainty({ ...reading, framesAcross: 20 })!;
    expect(Math.abs(few / enough / Math.sqrt(3) - 1)).toBeLessThan(1e-6);
  });

  it("is none where the front is seen in fewer than three frames", () => {
    expect(speedUncertainty({ ...reading, framesAcross: 2.99 })).toBeNull();
    expect(speedUncertainty({ ...reading, framesAcross: 3 })).not.toBeNull();
  });
});

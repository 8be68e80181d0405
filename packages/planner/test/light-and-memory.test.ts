import { describe, expect, it } from "vitest";
import { mainsFlicker, playbackSeconds } from "../src/index.js";
import { recordLength } from "../src/record-length.js";
import { triggerShare } from "../src/trigger-share.js";

const mode = {
  columns: 1280,
  rows: 800,
  rateHz: 1e5,
  bits: 12,
  minExposureSeconds: null,
  interpolation: null,
};

describe("mainsFlicker", () => {
  it("lamps flicker at 100 and 120 Hz: 5,000 frames a period at 500,000 frames/s on 50 Hz", () => {
    expect(mainsFlicker(50, 5e5, 1e-6, 1e-4)).toMatchObject({ lampHz: 100, framesPerCycle: 5000 });
    expect(mainsFlicker(60, 6e5, 1e-6, 1e-4)).toMatchObject({ lampHz: 120, framesPerCycle: 5000 });
  });

  it("is the largest change of 1 + cos over a window of the event's length, to 1e-3", () => {
    for (const eventSeconds of [1e-4, 1e-3, 3e-3, 4.9e-3, 8e-3]) {
      const brightness = (t: number) => 1 + Math.cos(2 * Math.PI * 100 * t);
      let largest = 0;
      for (let start = 0; start < 0.01; start += 1e-5) {
        const values = Array.from({ length: 201 }, (_, k) => brightness(start + (k / 200) * eventSeconds));
        largest = Math.max(largest, Math.max(...values) - Math.min(...values));
      }
      const { largestVariation } = mainsFlicker(50, 1e5, 1e-7, eventSeconds);
      expect(Math.abs(largestVariation - largest)).toBeLessThan(1e-3);
    }
  });

  it("vanishes where the exposure is a whole period of the light", () => {
    expect(mainsFlicker(50, 100, 0.01, 0.05).largestVariation).toBeLessThan(1e-12);
  });

  it("refuses what is not > 0, by name", () => {
    expect(() => mainsFlicker(50, 0, 1, 1)).toThrow("rateHz must be > 0, got 0");
  });
});

describe("playbackSeconds", () => {
  it("a thousand frames last 40 s at 25 frames/s", () => {
    expect(playbackSeconds(1000, 25)).toBe(40);
    expect(() => playbackSeconds(1000, 0)).toThrow("playbackHz must be > 0, got 0");
  });
});

describe("recordLength", () => {
  it("counts packed samples: 1.536 MB a frame of 1280 x 800 px at 12 bits", () => {
    expect(recordLength(mode, { memoryBytes: 1.536e9 })).toEqual({ frames: 1000, seconds: 0.01 });
    expect(recordLength({ ...mode, bits: 8 }, { memoryBytes: 1.536e9 })?.frames).toBe(1500);
  });

  it("counts whole frames", () => {
    expect(recordLength(mode, { memoryBytes: 1.536e6 - 1 })?.frames).toBe(0);
  });

  it("takes seconds as they are, and nothing as unknown", () => {
    expect(recordLength(mode, { memorySeconds: 0.3 })).toEqual({ frames: 30000, seconds: 0.3 });
    expect(recordLength(mode, {})).toBeNull();
  });

  it("cannot count bytes without bits", () => {
    expect(() => recordLength({ ...mode, bits: null }, { memoryBytes: 1e9 })).toThrow(
      expect.objectContaining({ code: "bits-missing", message: expect.stringContaining("1280 x 800 px") }),
    );
  });
});

describe("triggerShare", () => {
  it("holds reaction and event before the trigger, the event behind it, and half of what is left on either side", () => {
    const [record, event, reaction] = [2, 0.1, 0.5];
    const before = record * triggerShare(record, event, reaction)!;
    expect(Math.abs(2 * before - reaction - record)).toBeLessThan(1e-12);
  });

  it("keeps all of it before the trigger where reaction and event fill the memory", () => {
    expect(triggerShare(1, 0.25, 0.75)).toBe(1);
  });

  it("is none where memory does not hold reaction and event", () => {
    expect(triggerShare(1, 0.25, 0.76)).toBeNull();
  });
});

import { describe, expect, it } from "vitest";
import { openFrames } from "../../src/index.js";
import { lightPerSample, linearLight, type Transfer } from "../../src/samples/transfer.js";
import { handPng } from "../support/handPng.js";
import { handTiff } from "../support/handTiff.js";
import { bytes16, expectSamples, ramp8, ramp16 } from "../support/samples.js";
import { scratchFolder } from "../support/scratchFolder.js";

describe("linearLight", () => {
  // Printed to 15 digits by an independent implementation: the unit tests of the Python package colour (BSD-3-Clause),
  // colour/models/rgb/transfer_functions/tests/test_sRGB.py and test_itur_bt_709.py, which cite IEC 61966-2-1 and
  // ITU-R BT.709-6. 0.0675 / 0.015 lies on the straight toe.
  it.each([
    ["srgb", 0, 0],
    ["srgb", 0.461356129500442, 0.18],
    ["srgb", 1, 1],
    ["bt709", 0, 0],
    ["bt709", 0.0675, 0.015],
    ["bt709", 0.40900772886415, 0.18],
    ["bt709", 1, 1],
  ] as const)("%s gives the published point %d -> %d", (transfer, sample, light) => {
    expect(Math.abs(linearLight(transfer, sample) - light)).toBeLessThan(1e-14);
  });

  // The constants are printed to 3-5 digits, so the two pieces do not meet exactly: by 2.3e-9 in light for IEC 61966-2-1,
  // and for BT.709, whose toe ends at 0.018 -> 0.081 while its power gives 0.08125 there, by 5.5e-5.
  it.each([
    ["srgb", 0.04045, 1e-8],
    ["bt709", 0.081, 6e-5],
  ] as const)(
    "%s has pieces that meet at %d as well as its printed constants let them",
    (transfer, end, gap) => {
      const [below, above] = [linearLight(transfer, end), linearLight(transfer, end + 1e-12)];
      expect(Math.abs(above - below)).toBeLessThan(gap);
    },
  );

  it.each(["linear", "srgb", "bt709"] as const)("%s has the slope that lightPerSample gives", (transfer) => {
    for (const sample of [0.01, 0.2, 0.5, 0.97]) {
      const h = 1e-5;
      const slope = (linearLight(transfer, sample + h) - linearLight(transfer, sample - h)) / (2 * h);
      const given = lightPerSample(transfer, linearLight(transfer, sample));
      // The central difference is good to h² times the third derivative, below 1e-8.
      expect(Math.abs(given - slope)).toBeLessThan(1e-7);
    }
  });
});

async function read(file: string, content: Uint8Array, transfer?: Transfer) {
  const folder = await scratchFolder({ [file]: content });
  const sequence = await openFrames(folder, transfer ? { transfer } : {});
  return { sequence, frame: await sequence.read(0) };
}

describe("frames with a transfer undone", () => {
  const grey8 = handPng({ columns: 16, rows: 16, bits: 8, colourType: 0, samples: ramp8 });
  const grey16 = handTiff({ columns: 256, rows: 256, bits: 16, strip: bytes16(ramp16, false) });

  it("are the light of every grey sample, in units of the stored ones", async () => {
    for (const transfer of ["srgb", "bt709"] as const) {
      const eight = await read("t1.png", grey8, transfer);
      expectSamples(
        eight.frame,
        Float32Array.from(ramp8, (value) => 255 * linearLight(transfer, value / 255)),
      );
      expect(eight.frame.data[255]).toBe(255);
      const sixteen = await read("t1.tif", grey16, transfer);
      expectSamples(
        sixteen.frame,
        Float32Array.from(ramp16, (value) => 65_535 * linearLight(transfer, value / 65_535)),
      );
      expect(sixteen.sequence.bitDepth).toBe(16);
    }
  });

  it("are the samples as they are stored without it, and with linear", async () => {
    for (const transfer of [undefined, "linear"] as const) {
      const { sequence, frame } = await read("t1.png", grey8, transfer);
      expectSamples(frame, ramp8);
      expect(sequence.roundingStep).toBeUndefined();
    }
  });

  it("undo it in every channel before colour becomes luminance", async () => {
    const stored = [255, 0, 0, 10, 200, 90];
    const picture = {
      columns: 2,
      rows: 1,
      bits: 8,
      colourType: 2,
      samples: Uint8Array.from(stored),
    } as const;
    const { frame } = await read("t1.png", handPng(picture), "srgb");
    const [red, green, blue] = [10, 200, 90].map((value) => 255 * linearLight("srgb", value / 255));
    expectSamples(frame, Float32Array.of(0.2126 * 255, 0.2126 * red + 0.7152 * green + 0.0722 * blue));
    // The luma of the second pixel lies elsewhere: 0.2126 · 10 + 0.7152 · 200 + 0.0722 · 90 = 151.7 -> light 80.2.
    expect(Math.abs(frame.data[1] - 255 * linearLight("srgb", 151.66 / 255))).toBeGreaterThan(10);
  });

  it("are coarser where it is bright: the rounding step is the distance of neighbouring values", async () => {
    const { sequence, frame } = await read("t1.png", grey8, "srgb");
    for (const value of [5, 100, 250]) {
      const step = (frame.data[value + 1] - frame.data[value - 1]) / 2;
      const given = sequence.roundingStep?.(frame.data[value]) ?? Number.NaN;
      expect(Math.abs(given / step - 1)).toBeLessThan(1e-4);
    }
  });

  it("are refused for floating-point stills, and for a curve of another name", async () => {
    const float = handTiff({ columns: 1, rows: 1, bits: 32, sampleFormat: 3, strip: new Uint8Array(4) });
    await expect(read("t1.tif", float, "srgb")).rejects.toMatchObject({ code: "unsupported-transfer" });
    expect((await read("t1.tif", float, "linear")).frame.shape).toEqual([1, 1]);
    await expect(read("t1.png", grey8, "gamma" as Transfer)).rejects.toThrow(
      "transfer must be linear, srgb, bt709, got gamma",
    );
  });
});

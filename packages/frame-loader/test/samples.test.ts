import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { gamaChunk, handPng } from "./support/handPng.js";
import { handTiff } from "./support/handTiff.js";
import { bytes16, expectSamples, ramp8, ramp16, readStill } from "./support/samples.js";

const grey16 = sharp(ramp16, { raw: { width: 256, height: 256, channels: 1 } })
  .pipelineColourspace("grey16")
  .toColourspace("grey16");
const grey8 = sharp(ramp8, { raw: { width: 16, height: 16, channels: 1 } }).toColourspace("b-w");

describe("grey samples come back as they are stored", () => {
  it.each([
    ["t1.png", grey16.clone().png()],
    ["t1.png", grey16.clone().png({ progressive: true })],
    ["t1.tif", grey16.clone().tiff({ compression: "none" })],
    ["t1.tif", grey16.clone().tiff({ compression: "lzw", predictor: "horizontal" })],
    ["t1.tif", grey16.clone().tiff({ compression: "deflate", predictor: "none" })],
    ["t1.tif", grey16.clone().tiff({ compression: "deflate", tile: true, tileWidth: 64, tileHeight: 64 })],
  ])("all 65,536 values of a 16-bit %s, writer %#", async (name, writer) => {
    const frame = await readStill(name, await writer.toBuffer());
    expect(frame.shape).toEqual([256, 256]);
    expectSamples(frame, ramp16);
  });

  it.each([
    ["t1.png", grey8.clone().png()],
    ["t1.tif", grey8.clone().tiff({ compression: "lzw" })],
  ])("all 256 values of an 8-bit %s", async (name, writer) => {
    expectSamples(await readStill(name, await writer.toBuffer()), ramp8);
  });

  it("12-bit values in a 16-bit file are not stretched", async () => {
    const values = ramp16.map((value) => value & 0xfff);
    const content = handTiff({ columns: 256, rows: 256, bits: 16, strip: bytes16(values, false) });
    expectSamples(await readStill("t1.tif", content), values);
  });

  it.each([0.3, 0.45455, 1])("a hand-written 16-bit PNG with gAMA %d is not corrected", async (gamma) => {
    const samples = bytes16(ramp16, true);
    const picture = { columns: 256, rows: 256, bits: 16, colourType: 0, samples } as const;
    expectSamples(await readStill("t1.png", handPng({ ...picture, chunks: [gamaChunk(gamma)] })), ramp16);
  });

  it("a hand-written 8-bit PNG with gAMA is not corrected", async () => {
    const picture = { columns: 16, rows: 16, bits: 8, colourType: 0, samples: ramp8 } as const;
    expectSamples(await readStill("t1.png", handPng({ ...picture, chunks: [gamaChunk(1)] })), ramp8);
  });

  it.each([true, false])("a hand-written 16-bit TIFF, big-endian: %s", async (bigEndian) => {
    const strip = bytes16(ramp16, bigEndian);
    const content = handTiff({ columns: 256, rows: 256, bits: 16, bigEndian, strip });
    expectSamples(await readStill("t1.tif", content), ramp16);
  });

  it.each([true, false])("a hand-written 32-bit floating-point TIFF, big-endian: %s", async (bigEndian) => {
    const values = Float32Array.from({ length: 256 }, (_, i) => i / 7 - 12);
    const strip = Buffer.alloc(1024);
    values.forEach((value, i) => {
      if (bigEndian) strip.writeFloatBE(value, 4 * i);
      else strip.writeFloatLE(value, 4 * i);
    });
    const content = handTiff({ columns: 16, rows: 16, bits: 32, sampleFormat: 3, bigEndian, strip });
    expectSamples(await readStill("t1.tif", content), values);
  });

  it("a TIFF in which white is zero is turned over, so that larger is brighter", async () => {
    const content = handTiff({
      columns: 256,
      rows: 256,
      bits: 16,
      photometric: 0,
      strip: bytes16(ramp16, false),
    });
    expectSamples(
      await readStill("t1.tif", content),
      ramp16.map((value) => 65_535 - value),
    );
  });

  it("a TIFF that asks to be turned is not", async () => {
    const content = handTiff({
      columns: 3,
      rows: 2,
      bits: 8,
      orientation: 6,
      strip: Uint8Array.of(1, 2, 3, 4, 5, 6),
    });
    const frame = await readStill("t1.tif", content);
    expect(frame.shape).toEqual([2, 3]);
    expectSamples(frame, Uint8Array.of(1, 2, 3, 4, 5, 6));
  });

  it("a JPEG that asks to be turned is not, and flat grey stays what it was", async () => {
    const flat = sharp(new Uint8Array(24 * 16).fill(117), { raw: { width: 24, height: 16, channels: 1 } });
    const plain = await flat.toColourspace("b-w").jpeg({ quality: 100 }).toBuffer();
    const content = Buffer.concat([plain.subarray(0, 2), turnedSegment, plain.subarray(2)]);
    expect((await sharp(content).metadata()).orientation).toBe(6);
    const frame = await readStill("t1.jpg", content);
    expect(frame.shape).toEqual([16, 24]);
    expectSamples(frame, new Uint8Array(24 * 16).fill(117));
  });

  it.each([
    [1, [0b1011_0000], [255, 0, 255, 255, 0, 0, 0, 0]],
    [2, [0b00_01_10_11], [0, 85, 170, 255]],
    [4, [0x01, 0x9f], [0, 17, 153, 255]],
  ] as const)("%d-bit PNG samples fill the range of 8 bits", async (bits, packed, expected) => {
    const picture = { columns: expected.length, rows: 1, bits, colourType: 0 } as const;
    const frame = await readStill("t1.png", handPng({ ...picture, samples: Uint8Array.from(packed) }));
    expectSamples(frame, Uint8Array.from(expected));
  });
});

describe("WebP stills", () => {
  const raw = { width: 16, height: 16, channels: 3 } as const;
  const stored = [...ramp8].flatMap((value) => [value, 255 - value, (value * 5) % 256]);

  it("come back sample by sample where they are lossless, colour as its luminance", async () => {
    const content = await sharp(Uint8Array.from(stored), { raw }).webp({ lossless: true }).toBuffer();
    expectSamples(await readStill("t1.webp", content), bt709(stored));
  });

  it("that hold grey come back as that grey: the format has colour only, and the weights add up to one", async () => {
    const content = await grey8.clone().webp({ lossless: true }).toBuffer();
    expectSamples(await readStill("t1.webp", content), Float32Array.from(ramp8));
  });

  it("with losses are near what was stored", async () => {
    const flat = sharp(new Uint8Array(256).fill(117), { raw: { ...raw, channels: 1 } });
    const content = await flat.toColourspace("b-w").webp({ quality: 90 }).toBuffer();
    const frame = await readStill("t1.webp", content);
    for (const value of frame.data as Float32Array) expect(Math.abs(value - 117)).toBeLessThan(3);
  });

  it("lose their alpha, which is not composited", async () => {
    const withAlpha = [...ramp8].flatMap((value) => [value, value, value, 255 - value]);
    const content = await sharp(Uint8Array.from(withAlpha), { raw: { ...raw, channels: 4 } })
      .webp({ lossless: true, exact: true })
      .toBuffer();
    expectSamples(await readStill("t1.webp", content), Float32Array.from(ramp8));
  });
});

describe("alpha is dropped, not composited", () => {
  it("from 16-bit grey", async () => {
    const samples = bytes16(
      [...ramp16].flatMap((value) => [value, (value * 3) % 65_536]),
      true,
    );
    const picture = { columns: 256, rows: 256, bits: 16, colourType: 4, samples } as const;
    expectSamples(await readStill("t1.png", handPng(picture)), ramp16);
  });

  it("from 8-bit grey", async () => {
    const samples = Uint8Array.from([...ramp8].flatMap((value) => [value, 255 - value]));
    const picture = { columns: 16, rows: 16, bits: 8, colourType: 4, samples } as const;
    expectSamples(await readStill("t1.png", handPng(picture)), ramp8);
  });

  it("from grey with one value declared transparent", async () => {
    const chunks = [["tRNS", Uint8Array.of(0x10, 0x00)]] as const;
    const picture = {
      columns: 256,
      rows: 256,
      bits: 16,
      colourType: 0,
      samples: bytes16(ramp16, true),
    } as const;
    expectSamples(await readStill("t1.png", handPng({ ...picture, chunks })), ramp16);
  });

  it("from 16-bit colour", async () => {
    const samples = bytes16([1000, 20_000, 65_535, 0, 65_535, 3, 500, 7], true);
    const frame = await readStill(
      "t1.png",
      handPng({ columns: 2, rows: 1, bits: 16, colourType: 6, samples }),
    );
    expectSamples(frame, bt709([1000, 20_000, 65_535, 65_535, 3, 500]));
  });
});

describe("colour becomes BT.709 luminance of the stored samples", () => {
  it("over a 16-bit ramp in every channel", async () => {
    const stored = [...ramp16].flatMap((value) => [value, (value * 7) % 65_536, 65_535 - value]);
    const picture = {
      columns: 256,
      rows: 256,
      bits: 16,
      colourType: 2,
      samples: bytes16(stored, true),
    } as const;
    expectSamples(await readStill("t1.png", handPng({ ...picture, chunks: [gamaChunk(1)] })), bt709(stored));
    const content = handTiff({
      columns: 256,
      rows: 256,
      bits: 16,
      channels: 3,
      photometric: 2,
      strip: bytes16(stored, false),
    });
    expectSamples(await readStill("t1.tif", content), bt709(stored));
  });

  it("whatever profile is embedded", async () => {
    const stored = [...ramp8].flatMap((value) => [value, 255 - value, (value * 5) % 256]);
    const raw = { width: 16, height: 16, channels: 3 } as const;
    const tagged = await sharp(Uint8Array.from(stored), { raw }).png().withIccProfile("p3").toBuffer();
    const { data } = await sharp(tagged, { ignoreIcc: true }).raw().toBuffer({ resolveWithObject: true });
    expect((await sharp(tagged).metadata()).hasProfile).toBe(true);
    const managed = await sharp(tagged).raw().toBuffer();
    expect(managed.equals(data)).toBe(false);
    expectSamples(await readStill("t1.png", tagged), bt709([...data]));
  });

  it("through the palette of a palette PNG", async () => {
    const palette = [10, 20, 30, 40, 50, 60, 70, 80, 90, 1, 2, 3];
    const content = handPng({
      columns: 4,
      rows: 1,
      bits: 2,
      colourType: 3,
      samples: Uint8Array.of(0b00_01_10_11),
      chunks: [gamaChunk(1), ["PLTE", Uint8Array.from(palette)], ["tRNS", Uint8Array.of(0, 128)]],
    });
    expectSamples(await readStill("t1.png", content), bt709(palette));
  });

  it("of floating-point samples too", async () => {
    const stored = [0.5, -2, 1e6, 3, 4, 5];
    const strip = Buffer.alloc(24);
    stored.forEach((value, i) => {
      strip.writeFloatLE(value, 4 * i);
    });
    const picture = { columns: 2, rows: 1, bits: 32, sampleFormat: 3, channels: 3, photometric: 2 } as const;
    expectSamples(await readStill("t1.tif", handTiff({ ...picture, strip })), bt709(stored));
  });
});

/** An APP1 segment whose only Exif entry asks for a quarter turn (orientation 6). */
const turnedSegment = Buffer.concat([
  Buffer.from("ffe10022", "hex"),
  Buffer.from("Exif\0\0", "latin1"),
  Buffer.from("4d4d002a00000008", "hex"),
  Buffer.from("0001011200030000000100060000", "hex"),
  Buffer.alloc(4),
]);

/** ITU-R BT.709-6 item 3.2, rounded once to float32. */
function bt709(stored: readonly number[]): Float32Array {
  const pixels = Array.from({ length: stored.length / 3 }, (_, i) => stored.slice(3 * i, 3 * i + 3));
  return Float32Array.from(pixels, ([red, green, blue]) => 0.2126 * red + 0.7152 * green + 0.0722 * blue);
}

import { takeJsonSchema } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { measureOptions, optionKeys } from "../../src/measure/measure-options.js";
import { buildProgram } from "../../src/program.js";
import { capture } from "../capture.js";

/** The same double but for one rounding. */
const close = (value: number) => expect.closeTo(value, 15 - Math.floor(Math.log10(value)));

describe("--rate", () => {
  it.each([
    ["800k", 8e5],
    ["800kHz", 8e5],
    ["800000", 8e5],
    ["800000Hz", 8e5],
    ["1.2M", 1.2e6],
    ["1.2 MHz", 1.2e6],
    ["8e5", 8e5],
    [".5k", 500],
  ])("reads %s", (text, rateHz) => {
    expect(measureOptions({ rate: text })).toEqual({ rateHz });
  });

  it.each([
    ["800k+-80", 80],
    ["800k±80", 80],
    ["800k +- 0.08k", 80],
    ["800k+-0.01%", 80],
    ["800k+-0", 0],
    ["800k+-0%", 0],
  ])("reads one standard uncertainty in %s", (text, uncertainty) => {
    const expected = uncertainty === 0 ? 0 : close(uncertainty);
    expect(measureOptions({ rate: text })).toEqual({ rateHz: 8e5, rateUncertaintyHz: expected });
  });
});

describe("--scale", () => {
  it.each([
    ["0.2mm", 0.0002],
    ["1.93um", 0.00000193],
    ["1.93\u00b5m", 0.00000193],
    ["1.93\u03bcm", 0.00000193],
    ["2e-4m", 0.0002],
    ["350nm", 0.00000035],
    ["0.02cm", 0.0002],
  ])("reads %s as the nearest double", (text, metresPerPixel) => {
    expect(measureOptions({ scale: text })).toEqual({ metresPerPixel });
  });

  it.each([
    ["0.2mm+-0.001mm", 1e-6],
    ["0.2mm+-1um", 1e-6],
    ["0.2mm+-0.5%", 1e-6],
    ["0.2mm ± 0.5 %", 1e-6],
    ["0.2mm+-0", 0],
  ])("reads one standard uncertainty in %s", (text, uncertainty) => {
    const expected = uncertainty === 0 ? 0 : close(uncertainty);
    expect(measureOptions({ scale: text })).toEqual({
      metresPerPixel: 0.0002,
      metresPerPixelUncertainty: expected,
    });
  });
});

describe("the other options", () => {
  it("read points, widths, ranges, steps and times", () => {
    const texts = {
      path: "12,40:118.5,52",
      width: "8",
      polarity: "dark",
      front: "2",
      frames: "-12..145",
      every: "10",
    };
    const light = { exposure: "1us", lightPulse: "200ns", transfer: "bt709" };
    expect(measureOptions({ ...texts, ...light, skipBad: true })).toEqual({
      path: [
        [12, 40],
        [118.5, 52],
      ],
      width: 8,
      polarity: "dark",
      front: 2,
      firstFrame: -12,
      lastFrame: 145,
      frameStep: 10,
      exposureSeconds: 0.000001,
      lightPulseSeconds: 2e-7,
      transfer: "bt709",
      skipBad: true,
    });
  });

  it("allow negative frame numbers and points, which the frames then judge", () => {
    expect(measureOptions({ frames: "-12..-3" })).toEqual({ firstFrame: -12, lastFrame: -3 });
    expect(measureOptions({ path: "-1,0:5,5" }).path).toEqual([
      [-1, 0],
      [5, 5],
    ]);
  });
});

describe("a text that is no quantity", () => {
  const rates = [
    "abc",
    "",
    "0",
    "0k",
    "-5",
    "-800k",
    "Infinity",
    "inf",
    "NaN",
    "1e999",
    "1e-999",
    "0x10",
    "800k!",
  ];
  const moreRates = [
    "800 k 5",
    "1,000",
    "800m",
    "800K",
    "80%",
    "8e5+-",
    "8e5+-x",
    "8e5+--1",
    "8e5+-1+-2",
    "8e5+-1e999",
  ];
  const scales = [
    "0.2",
    "0",
    "0mm",
    "-1mm",
    "infmm",
    "0,2mm",
    "0.2mm+-0.001",
    "0.2 furlong",
    "mm",
    "0.2mmm",
    "--json",
  ];

  it.each([
    ...[...rates, ...moreRates].map((text) => ["rate", text, "--rate 800k+-0.01%"]),
    ...scales.map((text) => ["scale", text, "--scale 0.2mm+-0.5%"]),
    ...["1", "0us", "1us+-1%", "x"].map((text) => ["exposure", text, "--exposure 1us"]),
    ...["1", "0ns", "200ns+-1%"].map((text) => ["lightPulse", text, "--light-pulse 200ns"]),
    ...["sRGB", "gamma", "2.2", ""].map((text) => ["transfer", text, "--transfer srgb"]),
    ...["1,2", "1,2:3", "1,2:3,4:5,6", "a,b:c,d", "1,2:3,1e3", ""].map((text) => [
      "path",
      text,
      "--path 12,40:1180,52",
    ]),
    ...["0", "-3", "x", "1e3", ""].map((text) => ["width", text, "--width 24"]),
    ...["4", "-4us"].map((text) => ["rowTime", text, "--row-time 4us"]),
    ...["white", "Bright"].map((text) => ["polarity", text, "--polarity bright"]),
    ...["5", "5..", "5..x", "9..5", "1.5..3", "1..2..3"].map((text) => ["frames", text, "--frames -12..145"]),
    ...["0", "-1", "1.5", "x"].map((text) => ["every", text, "--every 10"]),
  ])("--%s %j is an error that names the option, the text and an example", (option, text, example) => {
    expect(() => measureOptions({ [option]: text })).toThrow(
      expect.objectContaining({
        code: "invalid-option",
        message: expect.stringMatching(new RegExp(`^${example.split(" ")[0]} must be `)),
      }),
    );
    expect(() => measureOptions({ [option]: text })).toThrow(`got "${text}"`);
    expect(() => measureOptions({ [option]: text })).toThrow(`for example ${example}`);
  });
});

describe("--distance", () => {
  it.each([
    ["3.2m", 3.2, undefined],
    ["3.2m+-1cm", 3.2, 0.01],
    ["40cm+-1%", 0.4, 0.004],
  ])("reads %s", (text, metres, uncertainty) => {
    const { distanceMetres, distanceUncertaintyMetres } = measureOptions({ distance: text });
    expect(Math.abs(distanceMetres! - metres)).toBeLessThan(1e-12);
    if (uncertainty === undefined) expect(distanceUncertaintyMetres).toBeUndefined();
    else expect(Math.abs(distanceUncertaintyMetres! - uncertainty)).toBeLessThan(1e-12);
  });

  it.each(["3.2", "0m", "-1m", "3.2s", "m", "3.2m+-"])("refuses the distance %s", (text) => {
    expect(() => measureOptions({ distance: text })).toThrow(
      expect.objectContaining({ code: "invalid-option", message: expect.stringContaining(`got "${text}"`) }),
    );
  });
});

describe("--air-temperature and --start-time", () => {
  it.each([
    ["20C", 293.15, undefined],
    ["-40 °C +- 0.5", 233.15, 0.5],
    ["293.15K+-0.5K", 293.15, 0.5],
    ["20+-1C", 293.15, 1],
  ])("reads %s", (text, kelvin, uncertainty) => {
    const { airTemperatureKelvin, airTemperatureUncertaintyKelvin } = measureOptions({
      airTemperature: text,
    });
    expect(Math.abs(airTemperatureKelvin! - kelvin)).toBeLessThan(1e-9);
    expect(airTemperatureUncertaintyKelvin).toBe(uncertainty);
  });

  it.each(["20", "-300C", "0K", "20F", "20C+-", "C", "20C+-1C+-1C"])("refuses the temperature %s", (text) => {
    expect(() => measureOptions({ airTemperature: text })).toThrow(
      expect.objectContaining({ code: "invalid-option", message: expect.stringContaining(`got "${text}"`) }),
    );
  });

  it.each([
    ["-12us", -12e-6],
    ["3ms", 3e-3],
    ["0s", 0],
  ])("reads the start %s", (text, seconds) => {
    expect(Math.abs(measureOptions({ startTime: text }).startTimeSeconds! - seconds)).toBeLessThan(1e-18);
  });
});

describe("the command line and take.json", () => {
  const nothing = async () => {};
  const actions = {
    measure: nothing,
    find: nothing,
    batch: nothing,
    report: nothing,
    overlay: nothing,
    calibrate: nothing,
    check: nothing,
    plan: nothing,
    compare: nothing,
    completion: nothing,
  };
  const program = buildProgram(capture().context, actions);
  const measure = program.commands.find((command) => command.name() === "measure");
  const harmless = ["json", "budget", "quiet", "out", "pictures", "report", "workers", "watch"];

  it("are those of batch, too", () => {
    const batch = program.commands.find((command) => command.name() === "batch");
    const options = batch?.options.map((option) => option.attributeName()) ?? [];
    expect(options.filter((name) => !harmless.includes(name)).sort()).toEqual(Object.keys(optionKeys).sort());
  });

  it("have the same options that can change the number", async () => {
    const options = measure?.options.map((option) => option.attributeName()) ?? [];
    expect(options.filter((name) => !harmless.includes(name)).sort()).toEqual(Object.keys(optionKeys).sort());

    const schema = (await takeJsonSchema()) as { properties: Record<string, unknown> };
    const keys = Object.keys(schema.properties).filter(
      (key) => !["format", "version", "notes", "copiedFrom"].includes(key),
    );
    expect(Object.values(optionKeys).flat().sort()).toEqual(keys.sort());
  });

  it("agree: each option sets the keys it is listed with, and no other", () => {
    const texts = {
      rate: "1+-0",
      scale: "1m+-0",
      calibration: "scale.json",
      sensorOffset: "0,364",
      binning: "2",
      medium: "water",
      path: "0,0:1,1",
      width: "1",
      polarity: "dark",
      front: "1",
      model: "auto",
      startTime: "-12us",
      airTemperature: "20C+-0.5C",
      distance: "3.2m+-1cm",
      rowTime: "4us",
      timestamps: "times.csv",
      origin: "412,-30.5",
      cell: "4",
      map: true,
      frames: "0..1",
      every: "1",
      exposure: "1s",
      lightPulse: "1s",
      transfer: "srgb",
      skipBad: true,
      raw: "4x3:u8",
      plan: "plan.json",
      material: "iron",
    };
    for (const [option, value] of Object.entries(texts)) {
      expect(Object.keys(measureOptions({ [option]: value })).sort()).toEqual(
        [...optionKeys[option as keyof typeof optionKeys]].sort(),
      );
    }
    expect(Object.keys(texts).sort()).toEqual(Object.keys(optionKeys).sort());
  });
});

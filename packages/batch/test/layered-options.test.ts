import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { temporaryFolder } from "../../take/test/render-take.js";
import { layeredOptions } from "../src/layered-options.js";

const head = { format: "frontpace-take", version: 1 } as const;

/** A folder day/firing/tile with a take.json where one is given. */
async function day(files: { day?: object; firing?: object; tile?: object }): Promise<string> {
  const root = await temporaryFolder();
  await mkdir(join(root, "firing", "tile"), { recursive: true });
  for (const [where, content] of [
    [root, files.day],
    [join(root, "firing"), files.firing],
    [join(root, "firing", "tile"), files.tile],
  ] as const)
    if (content) await writeFile(join(where, "take.json"), JSON.stringify({ ...head, ...content }));
  return root;
}
const name = "firing/tile";

describe("layeredOptions", async () => {
  const higher = await day({ day: { rateHz: 1, width: 5, notes: "of the day" }, firing: { rateHz: 2 } });
  const uncertain = await day({ day: { rateHz: 1, rateUncertaintyHz: 0.1 }, firing: { rateHz: 2 } });
  const scaled = await day({
    day: { calibration: "scale.json", medium: "water" },
    firing: { metresPerPixel: 1e-4 },
  });
  const calibrated = await day({
    day: { metresPerPixel: 1e-4, metresPerPixelUncertainty: 1e-6 },
    firing: { calibration: "scale.json" },
  });
  const own = await day({ day: { rateHz: 1, rateUncertaintyHz: 0.1, width: 5 }, tile: { rateHz: 3 } });
  const added = await day({ day: { rateHz: 1 }, tile: { rateUncertaintyHz: 0.2 } });
  const wrong = await day({ day: { ratesHz: 1 } });

  it("the nearer take.json wins over one higher up, and both over the options", async () => {
    expect(await layeredOptions(higher, name, { rateHz: 9, width: 7, cell: 4 })).toEqual({
      rateHz: 2,
      width: 5,
      cell: 4,
    });
  });

  it("a take outside the folder of a take.json does not get it", async () => {
    expect(await layeredOptions(higher, "other", { cell: 4 })).toEqual({ rateHz: 1, width: 5, cell: 4 });
  });

  it("an uncertainty goes with the value that is replaced", async () => {
    expect(await layeredOptions(uncertain, name, {})).toEqual({ rateHz: 2 });
  });

  it("so it does with a distance and a temperature, and an uncertainty of the take's own is that of a value from above", async () => {
    const above = { distanceMetres: 3, distanceUncertaintyMetres: 0.1, airTemperatureKelvin: 290 };
    const nearer = await day({ day: above, firing: { distanceMetres: 0.8 } });
    expect(await layeredOptions(nearer, name, { airTemperatureUncertaintyKelvin: 2 })).toEqual({
      distanceMetres: 0.8,
      airTemperatureKelvin: 290,
    });
    const stated = { distanceUncertaintyMetres: 0.2, airTemperatureUncertaintyKelvin: 1 };
    const ofTake = await day({ day: above, tile: stated });
    expect(await layeredOptions(ofTake, name, {})).toEqual({ ...above, ...stated });
  });

  it("what the take's own file states is left to it", async () => {
    expect(await layeredOptions(own, name, { cell: 4 })).toEqual({ width: 5, cell: 4 });
  });

  it("an uncertainty that the take's own file states of an inherited value is its uncertainty", async () => {
    expect(await layeredOptions(added, name, {})).toEqual({ rateHz: 1, rateUncertaintyHz: 0.2 });
  });

  it("a scale takes the place of a calibration with all that belongs to it, and the other way round", async () => {
    expect(await layeredOptions(scaled, name, {})).toEqual({ metresPerPixel: 1e-4 });
    expect(await layeredOptions(calibrated, name, {})).toEqual({
      calibration: join(calibrated, "firing", "scale.json"),
    });
  });

  it("a rate takes the place of a table of times from higher up, but not of one stated beside it", async () => {
    const timed = await day({ day: { timestamps: "times.csv" }, firing: { rateHz: 2 } });
    expect(await layeredOptions(timed, name, {})).toEqual({ rateHz: 2 });
    const both = { timestamps: "own.csv", rateHz: 2 };
    const beside = await day({ day: { timestamps: "times.csv" }, firing: both });
    const timestamps = join(beside, "firing", "own.csv");
    expect(await layeredOptions(beside, name, {})).toEqual({ timestamps, rateHz: 2 });
  });

  it("files are named relative to where they are named", async () => {
    expect(await layeredOptions(scaled, "other", { plan: "plan.json" })).toEqual({
      calibration: join(scaled, "scale.json"),
      medium: "water",
      plan: join(process.cwd(), "plan.json"),
    });
  });

  it("a wrong key is an error for every take below it", async () => {
    await expect(layeredOptions(wrong, name, {})).rejects.toMatchObject({ code: "unknown-key" });
  });
});

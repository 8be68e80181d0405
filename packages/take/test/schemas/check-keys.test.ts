import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkTakeFile, readTakeFile } from "../../src/files/read-take-file.js";
import { checkOptions } from "../../src/schemas/check-keys.js";
import { temporaryFolder } from "../render-take.js";

const head = { format: "frontpace-take", version: 1 };

describe("take.json", async () => {
  const folder = await temporaryFolder();

  it("passes unchanged when every key is right", async () => {
    const file = {
      ...head,
      rateHz: 8e5,
      rateUncertaintyHz: 0,
      exposureSeconds: 1e-6,
      metresPerPixel: 2e-4,
      metresPerPixelUncertainty: 1e-6,
      path: [
        [12, 40],
        [118, 52.5],
      ],
      width: 12.5,
      polarity: "dark",
      firstFrame: -12,
      lastFrame: 145,
      frameStep: 2,
      lightPulseSeconds: 2e-7,
      skipBad: true,
      transfer: "srgb",
      notes: "second lens",
    };
    expect(await checkTakeFile(file)).toEqual(file);
  });

  it.each([
    ["ratehz", "rateHz"],
    ["withd", "width"],
    ["exposureSecs", "exposureSeconds"],
  ])("takes %s for %s", async (key, nearest) => {
    await expect(checkTakeFile({ ...head, [key]: 1 })).rejects.toThrow(
      `unknown key "${key}"; the nearest known key is "${nearest}"`,
    );
  });

  it.each(["brightness", "scale", "x"])("lists the known keys where none is near %s", async (key) => {
    const failure = checkTakeFile({ ...head, [key]: 1 });
    await expect(failure).rejects.toMatchObject({ code: "unknown-key", fields: { key } });
    await expect(failure).rejects.toThrow(
      `unknown key "${key}"; no known key is near it; known are format, version, rateHz, `,
    );
    await expect(failure).rejects.not.toThrow("the nearest known key");
  });

  it("names the nearest known key for an unknown one", async () => {
    await expect(checkTakeFile({ ...head, rateHertz: 8e5 })).rejects.toMatchObject({
      code: "unknown-key",
      fields: { key: "rateHertz", file: "take.json" },
      message: 'take.json: unknown key "rateHertz"; the nearest known key is "rateHz"',
    });
  });

  it.each([
    ["rateHz", "800k"],
    ["rateHz", 0],
    ["rateHz", -5],
    ["rateUncertaintyHz", -1],
    ["exposureSeconds", 0],
    ["metresPerPixel", null],
    ["metresPerPixelUncertainty", "1%"],
    ["path", [[1, 2]]],
    [
      "path",
      [
        [1, 2],
        [3, "4"],
      ],
    ],
    ["width", 0.5],
    ["polarity", "white"],
    ["firstFrame", 1.5],
    ["lastFrame", "9"],
    ["frameStep", 0],
    ["notes", 7],
  ])("names key, rule and value where %s is %j", async (key, value) => {
    const failure = checkTakeFile({ ...head, [key]: value });
    await expect(failure).rejects.toMatchObject({ code: "invalid-value", fields: { key, value } });
    await expect(failure).rejects.toThrow(`take.json: ${key} must be `);
    await expect(failure).rejects.toThrow(`got ${JSON.stringify(value)}`);
  });

  it("must carry its format and a version that is known", async () => {
    await expect(checkTakeFile({ version: 1 })).rejects.toThrow(
      'take.json: format must be "frontpace-take", got nothing',
    );
    await expect(checkTakeFile({ ...head, version: 2 })).rejects.toThrow("version must be 1");
    await expect(checkTakeFile([1])).rejects.toThrow("must hold one object");
  });

  it("refuses a number too large for a double", async () => {
    await writeFile(join(folder, "take.json"), '{"format":"frontpace-take","version":1,"rateHz":1e999}');
    await expect(readTakeFile(folder)).rejects.toThrow("rateHz must be a finite number > 0");
  });

  it("that is not JSON is an error, and a byte order mark is none", async () => {
    await writeFile(join(folder, "take.json"), "{ rateHz: 8 }");
    await expect(readTakeFile(folder)).rejects.toMatchObject({ code: "take-file-not-json" });
    await writeFile(join(folder, "take.json"), `\uFEFF${JSON.stringify({ ...head, rateHz: 8 })}`);
    expect(await readTakeFile(folder)).toEqual({ ...head, rateHz: 8 });
  });

  it("may be absent, but not unreadable", async () => {
    expect(await readTakeFile(join(folder, "nowhere"))).toBeNull();
    await mkdir(join(folder, "odd", "take.json"), { recursive: true });
    await expect(readTakeFile(join(folder, "odd"))).rejects.toMatchObject({ code: "take-file-unreadable" });
  });
});

describe("options", () => {
  it("refuse NaN, infinity and keys that are not options", async () => {
    await expect(checkOptions({ rateHz: Number.NaN })).rejects.toThrow("rateHz must be a finite number > 0");
    await expect(checkOptions({ width: Infinity })).rejects.toThrow("got Infinity");
    await expect(checkOptions({ notes: "x" })).rejects.toMatchObject({ code: "unknown-key" });
  });
});

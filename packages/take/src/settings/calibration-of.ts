import { dirname, resolve } from "node:path";
import { readScale } from "../files/read-scale.js";
import { takeFileOf } from "../files/read-take-file.js";
import { TakeError } from "../take-error.js";
import type { MeasureOptions, ScaleFile, TakeFile } from "../types.js";

/** The scale.json that the options name, relative to the working folder, or else take.json, relative to its own. A scale
 *  in the options takes the place of a calibration in take.json, and the other way round.
 *  @returns null where none is named
 *  @throws TakeError `scale-twice` where both stand in one place; `invalid-value` where what belongs to a calibration comes
 *    without one; as `readScale` */
export async function calibrationOf(
  options: MeasureOptions,
  file: TakeFile | null,
  take: string,
): Promise<ScaleFile | null> {
  for (const [where, one] of [
    ["the options", options],
    ["take.json", file],
  ] as const)
    if (one?.calibration !== undefined && one.metresPerPixel !== undefined)
      throw new TakeError(
        "scale-twice",
        `${where} give the scale twice, as calibration ${one.calibration} and as metresPerPixel ${one.metresPerPixel}: keep one of them`,
        { key: "calibration", value: one.calibration },
      );
  if (options.calibration !== undefined) return readScale(options.calibration);
  if (options.metresPerPixel === undefined && file?.calibration !== undefined)
    return readScale(resolve(dirname(await takeFileOf(take)), file.calibration));
  for (const key of ["sensorOffset", "binning", "medium"] as const) {
    if (options[key] === undefined) continue;
    const message = `${key} says how a calibration fits the take, and none is given: name one, or leave ${key} out`;
    throw new TakeError("invalid-value", message, { key, value: options[key] });
  }
  return null;
}

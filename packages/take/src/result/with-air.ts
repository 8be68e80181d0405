import { machNumber, soundSpeed } from "@frontpace/planner";
import type { Settings } from "../settings/settle.js";
import type { TakeResult } from "../types.js";

/** The result with the speed of sound in the air that a shock runs in, and with its Mach number where it has a speed or a bound.
 *  An uncertainty that was not stated is null, as is that of a reading only. */
export function withAir(
  result: TakeResult,
  temperature: NonNullable<Settings["airTemperatureKelvin"]>,
): TakeResult {
  const { value, standardUncertainty } = temperature;
  const sound = soundSpeed({ value, standardUncertainty: standardUncertainty ?? 0 });
  const isKnown = standardUncertainty !== undefined;
  const { speed, lowerBound } = result;
  const fast = speed ?? (lowerBound && { value: lowerBound.value, standardUncertainty: 0, complete: false });
  const mach = fast && machNumber(fast, sound);
  const { warnings, ...rest } = result;
  return {
    ...rest,
    air: {
      soundSpeed: sound.value,
      soundSpeedUncertainty: isKnown ? sound.standardUncertainty : null,
      mach: mach?.value ?? null,
      machUncertainty: mach && fast.complete && isKnown ? mach.standardUncertainty : null,
      source: "ISO 2533:1975, dry air",
    },
    warnings,
  } as TakeResult;
}

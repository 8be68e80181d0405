import { roundPair } from "@frontpace/report/words";
import type { TakeResult } from "@frontpace/take";

/** The Mach number of the speed, in words; null where the temperature of the air is not known, or nothing was measured. */
export function describeAir({ air, status }: TakeResult): string | null {
  if (!air || air.mach === null) return null;
  const { mach, machUncertainty, soundSpeed, soundSpeedUncertainty, source } = air;
  const least = status === "bounded" ? "at least " : "";
  return `Mach number: ${least}${text(mach, machUncertainty)}, speed of sound ${text(soundSpeed, soundSpeedUncertainty)} m/s (${source}; k = 1)`;
}

function text(value: number, standardUncertainty: number | null): string {
  if (standardUncertainty === null) return value.toPrecision(4);
  const rounded = roundPair(value, standardUncertainty);
  return `${rounded.value} +- ${rounded.halfWidth}`;
}

import type { TakeResult } from "@frontpace/take";

export const exitCodes = { measured: 0, fault: 1, usage: 2, notMeasured: 3, interrupted: 130 } as const;

export function exitCodeOf(status: TakeResult["status"]): number {
  return status === "measured" ? exitCodes.measured : exitCodes.notMeasured;
}

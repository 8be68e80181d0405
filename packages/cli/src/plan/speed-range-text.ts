import type { SpeedRange } from "@frontpace/planner";
import { threeDigits } from "@frontpace/report/words";

/** An expected speed, or its range. */
export function speedRangeText({ low, high }: SpeedRange): string {
  return low === high ? `${threeDigits(high)} m/s` : `${threeDigits(low)} to ${threeDigits(high)} m/s`;
}

import { threeDigits, wholeNumber } from "./with-unit.js";

/** A time on the screen; minutes where seconds are many. */
export function screenTime(seconds: number): string {
  return seconds < 120 ? `${threeDigits(seconds)} s` : `${wholeNumber(seconds / 60)} min`;
}

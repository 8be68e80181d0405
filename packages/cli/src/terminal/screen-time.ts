import { threeDigits, wholeNumber } from "@frontpace/report/words";

/** A time on the screen; minutes where seconds are many. */
export function screenTime(seconds: number): string {
  return seconds < 120 ? `${threeDigits(seconds)} s` : `${wholeNumber(seconds / 60)} min`;
}

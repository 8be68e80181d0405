import { statusInWords } from "@frontpace/planner";
import { percentText, wholeNumber } from "@frontpace/report/words";
import type { TakeResult } from "@frontpace/take";

/** The speed against the waves of what cracked, in words; null where it is not known. */
export function describeMaterial({ material, status }: TakeResult): string | null {
  if (!material || material.shareOfRayleigh === null) return null;
  const { name, rayleighSpeed, shareOfRayleigh, source, status: known } = material;
  const least = status === "bounded" ? "at least " : "";
  return `${name}: ${least}${percentText(shareOfRayleigh)} of the Rayleigh speed, ${wholeNumber(rayleighSpeed)} m/s, from constants of ${source} (${statusInWords(known)})`;
}

import type { ArrivalMap } from "@frontpace/arrival";

/** What passes spreads across its way over this share of what the picture does, at least: the rest is a spot that flies past. The tracker holds the same of
 *  the width of a path, but a path that was laid through a spot may be as narrow as the spot. */
const LEAST_COVERED = 0.6;

/** Whether what passes and leaves nothing passed in a part of the picture only: the standard deviation, across its way, of the places where it was against
 *  that of all places.
 *  @param angleDegrees  of its way, from x towards y */
export function passesInPart({ kind, arrival, columns }: ArrivalMap, angleDegrees: number): boolean {
  if (kind === "stays") return false;
  const angle = (angleDegrees * Math.PI) / 180;
  const across = Array.from(
    arrival,
    (_, i) => Math.floor(i / columns) * Math.cos(angle) - (i % columns) * Math.sin(angle),
  );
  const passed = across.filter((_, i) => !Number.isNaN(arrival[i]));
  return deviation(passed) < LEAST_COVERED * deviation(across);
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
}

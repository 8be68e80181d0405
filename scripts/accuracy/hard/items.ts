import { BEHIND } from "./items/behind.js";
import { LATER } from "./items/later.js";
import { LIGHT } from "./items/light.js";
import { MOTION } from "./items/motion.js";
import { PARTS } from "./items/parts.js";
import { SAMPLING } from "./items/sampling.js";
import { SHIFTS } from "./items/shifts.js";
import { TIMING } from "./items/timing.js";
import type { Item } from "./scene.js";

/** In the order in which they are added to a take: how the front runs first, since most others follow it. */
export const ITEMS: readonly Item[] = [
  ...MOTION,
  ...PARTS,
  ...BEHIND,
  ...LATER,
  ...LIGHT,
  ...SHIFTS,
  ...TIMING,
  ...SAMPLING,
];

/** Two items that can be in one take. */
export function compatible(one: Item, other: Item): boolean {
  if (one === other) return false;
  const brief = (item: Item) => item.base?.seen !== undefined;
  // In a few frames, neither copies at regular intervals nor a second front can be seen by anyone.
  const needsMany = (item: Item) => item.slot === "timing" || item.slot === "motion" || item.noSpeed;
  if ((brief(one) && needsMany(other)) || (brief(other) && needsMany(one))) return false;
  return one.slot === undefined || one.slot !== other.slot;
}

import type { Found } from "./follow-divided.js";
import { relativeUncertainty } from "./follow-front.js";

/** How unsure the speed is, relative to itself; infinite where no front was followed. */
export function unsureness({ front }: Found): number {
  return front ? relativeUncertainty(front) : Number.POSITIVE_INFINITY;
}

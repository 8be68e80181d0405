import type { Settings } from "./settle.js";

/** Time during which a frame collects light: the pulse where light is pulsed, else the exposure.
 *  @returns s; null where neither is known */
export function collectionSeconds({
  lightPulseSeconds,
  exposureSeconds,
}: Pick<Settings, "lightPulseSeconds" | "exposureSeconds">): number | null {
  return lightPulseSeconds ?? exposureSeconds;
}

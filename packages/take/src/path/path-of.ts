import type { Streak } from "@frontpace/tracker";
import type { Settings } from "../settings/settle.js";

/** A path as the settings have it. */
export function pathOf([from, to]: Streak["path"]): NonNullable<Settings["path"]> {
  return [
    [from[0], from[1]],
    [to[0], to[1]],
  ];
}

import type { PlanCompared } from "./comparison-types.js";
import { statusInWords } from "./find-material.js";

/** What an expected speed rests on, to be said wherever a take is held against it.
 *  @returns empty where the speed was given, not taken from the physics table */
export function expectedFrom({ material }: Pick<PlanCompared, "material">): string {
  if (!material) return "";
  const { name, sources } = material;
  const unread = sources.filter((source) => !source.endsWith(`(${statusInWords("read")})`)).length;
  const trust =
    unread === 0 ? "all read at the source" : `${unread} of ${sources.length} not read at the source`;
  return `; it is expected from published speeds of cracks in ${name}, ${trust}`;
}

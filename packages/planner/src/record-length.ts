import type { RecordingMode } from "./mode-types.js";
import { PlannerError } from "./planner-error.js";
import type { PlanRequest } from "./request-types.js";

/** What the memory holds in a mode. A sample takes up its bits, packed.
 *  @returns null where nothing is known of the memory
 *  @throws PlannerError `bits-missing` where the memory is in bytes and the list says no bits */
export function recordLength(
  { columns, rows, bits, rateHz }: RecordingMode,
  { memoryBytes, memorySeconds }: Pick<PlanRequest, "memoryBytes" | "memorySeconds">,
): { readonly frames: number; readonly seconds: number } | null {
  if (memorySeconds !== undefined)
    return { frames: Math.floor(memorySeconds * rateHz * (1 + Number.EPSILON)), seconds: memorySeconds };
  if (memoryBytes === undefined) return null;
  if (bits === null)
    throw new PlannerError(
      "bits-missing",
      `the mode of ${columns} x ${rows} px has no bits, so its frames cannot be counted in bytes: add a column bits to the list, or give the memory in seconds`,
      { key: "memoryBytes" },
    );
  const frames = Math.floor((memoryBytes * 8) / (columns * rows * bits));
  return { frames, seconds: frames / rateHz };
}

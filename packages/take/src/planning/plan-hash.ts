import { createHash } from "node:crypto";
import type { PlanFile } from "../types.js";

/** Digest of a checked plan, by which a result names the plan it was measured with. */
export function planHash(plan: PlanFile): string {
  return createHash("sha256").update(JSON.stringify(plan)).digest("hex");
}

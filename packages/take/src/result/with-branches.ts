import type { TakeResult } from "../types.js";

/** The result with the cracks that were followed, before its warnings. */
export function withBranches(result: TakeResult, branches: NonNullable<TakeResult["branches"]>): TakeResult {
  const { warnings, ...rest } = result;
  return { ...rest, branches, warnings } as TakeResult;
}

import type { TakeResult } from "./types.js";

/** The result with the shape of the front, before its warnings. */
export function withShape(result: TakeResult, shape: NonNullable<TakeResult["shape"]>): TakeResult {
  const { warnings, ...rest } = result;
  return { ...rest, shape, warnings } as TakeResult;
}

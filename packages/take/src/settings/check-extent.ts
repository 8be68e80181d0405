import { TakeError } from "../take-error.js";
import type { MeasureOptions } from "../types.js";

/** Checks that a first frame does not lie behind the last one, and that a path has a length.
 *  @throws TakeError `invalid-value`, `path-empty` */
export function checkExtent({
  firstFrame,
  lastFrame,
  path,
}: Pick<MeasureOptions, "firstFrame" | "lastFrame" | "path">): void {
  if (firstFrame !== undefined && lastFrame !== undefined && firstFrame > lastFrame) {
    const message = `firstFrame must be <= lastFrame, got ${firstFrame} and ${lastFrame}`;
    throw new TakeError("invalid-value", message, { key: "firstFrame", value: firstFrame });
  }
  if (path !== undefined && Math.hypot(path[1][0] - path[0][0], path[1][1] - path[0][1]) < 1) {
    const message = `path must be at least 1 px long, got ${JSON.stringify(path)}: give two different points`;
    throw new TakeError("path-empty", message, { key: "path", value: path });
  }
}

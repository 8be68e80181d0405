import type { TrackOutcome } from "@frontpace/tracker";
import type { Settings } from "../settings/settle.js";
import type { TakeFrames } from "../types.js";

/** Width about a given path where none is asked for, px, as in the tracker and the finder. */
const DEFAULT_WIDTH = 15;

/** The outcome where no frame was followed: the streak has no frame.
 *  @returns not-found, along the path asked for or the middle row */
export function notMeasured(
  { rows, columns }: TakeFrames,
  { path, width }: Settings,
  notFound: { readonly reason: string; readonly message: string },
): TrackOutcome {
  const middle = (rows - 1) / 2;
  const along =
    path ??
    ([
      [0, middle],
      [columns - 1, middle],
    ] as const);
  return {
    status: "not-found",
    ...notFound,
    streak: {
      data: new Float64Array(0),
      shape: [0, Math.floor(Math.hypot(along[1][0] - along[0][0], along[1][1] - along[0][1])) + 1],
      frameNumbers: [],
      path: along,
      width: width ?? (path ? DEFAULT_WIDTH : rows),
      effectiveRows: null,
    },
    warnings: [],
  };
}

import { median } from "@frontpace/fit";
import type { ArrivalMap } from "./types.js";

/** Cells to either side, where nothing asks for more. */
const USUAL = 3;
/** More would blur what varies, and takes long. */
const MOST = 15;
/** frames; arrivals no surer than this are told by the spacing of the frames alone: a front that jumps from frame to frame has
 *  1/sqrt(12) = 0.29. */
const BY_SPACING = 0.2;
/** Then arrivals stand in steps of a frame, and a plane through fewer steps than these follows one of them. */
const FRAMES = 3;
/** Cells that are compared lie so far apart: near enough for a front that is seen in a part of the picture, and farther than most steps. */
const APART = 8;

/** How many cells to either side a plane needs: three, or as many as hold three frames where the front jumps from frame to frame. */
export function planeReach(map: ArrivalMap): number {
  const { columns, cell, arrival } = map;
  const said = map.standardUncertainty.filter((_, k) => !Number.isNaN(arrival[k]));
  if (said.length === 0 || median(said) < BY_SPACING) return USUAL;
  const across = (step: number, isInside: (k: number) => boolean) => {
    let [sum, count] = [0, 0];
    for (let k = 0; k + step < arrival.length; k++) {
      const apart = Math.abs(arrival[k + step] - arrival[k]);
      if (!isInside(k) || Number.isNaN(apart)) continue;
      sum += apart;
      count++;
    }
    return count > 0 ? sum / (count * APART * cell) : 0;
  };
  const slowness = Math.hypot(
    across(APART, (k) => (k % columns) + APART < columns),
    across(APART * columns, () => true),
  );
  const wanted = slowness > 0 ? Math.ceil((FRAMES / slowness / cell - 1) / 2) : USUAL;
  return Math.min(MOST, Math.max(USUAL, wanted));
}

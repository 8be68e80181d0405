import type { FrontState, PositionModel } from "../model/front-model.js";

/** Where a front is near a position, and on which side it is elsewhere. */
export interface Passed {
  readonly models: readonly Pick<PositionModel, "position" | "near">[];
  readonly state: Pick<FrontState, "sense" | "frontPixels">;
}

export const NEAR = 0;
export const AHEAD = 1;
export const BEHIND = 2;

/** Of each sample whether the front is near, yet to come or past; shape (frames, positions). */
export function sidesOf(
  [frames, positions]: readonly [number, number],
  { models, state: { sense, frontPixels } }: Passed,
  kept: readonly number[],
): Uint8Array {
  const sideOf = new Uint8Array(frames * positions);
  for (const { position, near } of models) {
    kept.forEach((frame, k) => {
      sideOf[frame * positions + position] = sense * (frontPixels[k] - position) > 0 ? BEHIND : AHEAD;
    });
    for (const k of near) sideOf[kept[k] * positions + position] = NEAR;
  }
  return sideOf;
}

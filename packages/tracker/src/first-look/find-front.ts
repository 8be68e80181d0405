import type { BrightnessField } from "../model/front-model.js";
import { streakNoise } from "../streak/noise.js";
import { type ChangeShape, changeInTime } from "./change-in-time.js";
import { type FirstLine, firstLine, judgeLine } from "./first-line.js";

/** What a first look at a streak shows. */
export interface FirstLook {
  readonly verdict: "front" | "at-once" | "nothing";
  readonly candidates: readonly { readonly shape: ChangeShape; readonly line: FirstLine }[];
  readonly noise: number;
  /** How much more the line explains than one change everywhere at once. */
  readonly weight: number;
}

/** Looks for a straight line of change through the streak: a step, or a pulse that passes and leaves nothing.
 *  @param noiseFloor  standard deviation that rounding alone gives
 *  @param sign  count only changes of this sign; 0: both */
export function findFront(
  { data, positions }: BrightnessField,
  frameNumbers: readonly number[],
  noiseFloor: number,
  sign: -1 | 0 | 1,
): FirstLook {
  const shape = [frameNumbers.length, positions] as const;
  const noise = streakNoise(data, shape, noiseFloor);
  const looks = (["step", "pulse"] as const).map((profile) => {
    const line = firstLine(changeInTime(data, shape, noise, profile, sign), frameNumbers);
    return { shape: profile, line, verdict: judgeLine(line, positions) };
  });
  // A change of all positions at once may still be a slow, blurred step; a pulse must be seen to move.
  const candidates = looks.flatMap(({ shape, line, verdict }) =>
    line && (verdict === "front" || (verdict === "at-once" && shape === "step")) ? [{ shape, line }] : [],
  );
  const verdict = (["front", "at-once"] as const).find((v) => looks.some((look) => look.verdict === v));
  const weight = Math.max(0, ...candidates.map(({ line }) => line.evidence - line.commonEvidence));
  return { verdict: verdict ?? "nothing", candidates, noise, weight };
}

import type { ProfileShape } from "../model/edge-profile.js";
import type { FrontMotion } from "../model/joint-fit.js";
import type { FirstLine } from "./first-line.js";

/** Motions from which a joint fit is tried: the first line and, for a slow front whose changes in time run into
 *  each other, slower ones; with the smear of the exposure where it is known, else with three sizes of it. */
export function startMotions(
  line: Pick<FirstLine, "frameAtOrigin" | "framesPerPixel" | "support">,
  shape: ProfileShape,
  frameNumbers: readonly number[],
  positions: number,
  exposureFraction: number | undefined,
): FrontMotion[] {
  const span = frameNumbers[frameNumbers.length - 1] - frameNumbers[0] + 1;
  const slowness = Math.max(Math.abs(line.framesPerPixel), 0.25 / positions);
  const speed = 1 / slowness;
  const middlePosition = line.support[line.support.length >> 1];
  const middleFrame = line.frameAtOrigin + line.framesPerPixel * middlePosition;
  const steep = Math.abs(line.framesPerPixel) * line.support.length < 2;
  const senses = line.framesPerPixel < 0 ? ([-1, 1] as const) : ([1, -1] as const);
  const slow = positions / span < 3;
  const factors =
    slow && steep ? [1, 0.5, 0.25, 0.1, 0.04] : slow && speed * span < 60 ? [1, 0.6, 0.35] : [1];
  const exposures = exposureFraction !== undefined ? [exposureFraction] : speed > 2 ? [0, 0.5, 1] : [0.5];
  return senses.slice(0, steep ? 2 : 1).flatMap((sense) =>
    factors.flatMap((factor) =>
      exposures.map((fraction) => ({
        shape,
        sense,
        slopePixelsPerFrame: sense * speed * factor,
        interceptPixels: middlePosition - sense * speed * factor * middleFrame,
        blurPixels: 2,
        exposureFraction: fraction,
        tiltSpreadPixels: 0,
      })),
    ),
  );
}

import type { LightFacts } from "@frontpace/checker";
import { fitPeriodic } from "@frontpace/fit";
import type { Footage } from "@frontpace/tracker";

/** Cycles in the frames looked at below which a variation is a drift. */
const FEWEST_CYCLES = 1.5;

/** How the light varies from frame to frame.
 *  @returns null where the picture is dark */
export function lightFacts({ light, frameNumbers }: Footage, rateHz: number | null): LightFacts | null {
  if (!light) return null;
  const { gain, standardUncertainty, isShared } = light;
  const span = frameNumbers[frameNumbers.length - 1] - frameNumbers[0];
  const step = span / Math.max(1, frameNumbers.length - 1);
  const from = FEWEST_CYCLES / span;
  const fit = gain && from < 0.5 / step ? fitPeriodic(frameNumbers, gain, { from, to: 0.5 / step }) : null;
  return {
    frames: frameNumbers.length,
    depth: gain && gain.reduce((a, b) => Math.max(a, b)) - gain.reduce((a, b) => Math.min(a, b)),
    isShared,
    standardUncertainty,
    periodic: fit && {
      cyclesPerFrame: fit.frequency,
      standardUncertainty: fit.standardUncertainty,
      depth: fit.peakToPeak,
    },
    rateHz,
  };
}

import { fitPolynomial } from "@frontpace/fit";
import type { FrontTrack, TrackOutcome } from "@frontpace/tracker";

/** A sample is the mean over the area of its pixel: variance that this adds along the radius, px². */
const PIXEL_VARIANCE = 1 / 12;
/** The readings tell which of the two it is where it explains them by so much better: difference of the sums of squares over what the better one leaves to
 *  a reading. */
const TOLD = 9;

/** Adds to `model choice` what is open of the speed of a round front by how its edge became wide. A lens that blurs with a standard deviation σ draws a
 *  circle in: of radius r, its edge or a thin ring stands σ²/(2r) too far in, so that it seems too fast while it is small. An edge that is wide
 *  by itself stands where it is. Where the readings say the latter nothing is open; else as much as the two differ by, either way
 *  (type B, rectangular).
 *  @param firstRadius  radius where the ray begins, px */
export function withDrawnIn(outcome: TrackOutcome, firstRadius: number): TrackOutcome {
  if (outcome.status !== "tracked") return outcome;
  const { track } = outcome;
  const open = openByLens(track, firstRadius);
  if (open === null) return outcome;
  const { contributions } = track.line;
  const { modelChoice } = contributions;
  const before = "notEvaluated" in modelChoice ? 0 : modelChoice.standardUncertaintyPixelsPerFrame;
  const both = {
    standardUncertaintyPixelsPerFrame: Math.hypot(before, open),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
  const line = { ...track.line, contributions: { ...contributions, modelChoice: both } };
  return { ...outcome, track: { ...track, line } };
}

/** Standard uncertainty of the slope, px a frame; null where the readings say that no lens drew the front in, or it cannot be told how far. */
function openByLens({ positions, look }: FrontTrack, firstRadius: number): number | null {
  const used = positions.filter((position) => position.used);
  if (!look || used.length < 3) return null;
  const variance = look.edgeBlurPixels ** 2 + PIXEL_VARIANCE;
  const times = used.map(({ frame, timeFrames }) => timeFrames ?? frame);
  // As they weigh in the line: about which they wander, by what the lens does to them, too.
  const beyond = used.reduce(
    (sum, { residualPixels, standardUncertaintyPixels: u }) => sum + residualPixels ** 2 - u ** 2,
    0,
  );
  const wander = Math.sqrt(Math.max(0, beyond) / used.length);
  const standardUncertainty = used.map((one) => Math.hypot(one.standardUncertaintyPixels, wander));
  const lineThrough = (places: readonly number[]) => fitPolynomial(times, places, 1, { standardUncertainty });
  const asSeen = used.map(({ positionPixels }) => positionPixels);
  const undone = asSeen.map((place) => {
    const radius = Math.max(firstRadius + place, Math.sqrt(variance));
    return place + variance / (2 * radius);
  });
  const [wide, blurred] = [asSeen, undone].map(lineThrough);
  const left = Math.min(wide.chiSquared, blurred.chiSquared) / Math.max(1, wide.degreesOfFreedom);
  if (blurred.chiSquared - wide.chiSquared > TOLD * left) return null;
  return Math.abs(blurred.coefficients[1] - wide.coefficients[1]) / Math.sqrt(3);
}

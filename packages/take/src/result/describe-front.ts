import type { FrontTrack } from "@frontpace/tracker";
import type { CalibratedPath } from "../path/calibrated-path.js";
import { tiltInPlane } from "../path/tilt-in-plane.js";
import type { Settings } from "../settings/settle.js";
import type { MeasuredResult } from "../types.js";

const MEASURANDS = {
  brightness: "mid-level of the change averaged over the path's width, velocity component along the path",
  departures:
    "envelope of a cloud of changes: mid-level of the logarithm of the pixels' mean square departure from their levels before, over the path's width, velocity component along the path",
} as const;
const ofPulse = ", at the middle of the light pulse";

/** What of the front stands in the result, keys in the order of the file.
 *  @param traceSpeed  along the path, m/s */
export function describeFront(
  track: FrontTrack,
  traceSpeed: number,
  { lightPulseSeconds }: Settings,
  calibrated: CalibratedPath | null,
): MeasuredResult["front"] {
  const { channel, firstFrame, lastFrame, direction, polarity, tilt, look } = track;
  const front = {
    measurand: lightPulseSeconds === null ? MEASURANDS[channel] : MEASURANDS[channel] + ofPulse,
    firstFrame,
    lastFrame,
    framesUsed: track.positions.filter(({ used }) => used).length,
    direction: [direction[0], direction[1]] as [number, number],
    polarity,
    channel,
  };
  return {
    ...front,
    ...(tilt && { tilt: tiltOf(tilt, traceSpeed, calibrated) }),
    ...(look && { edgeBlurPixels: look.edgeBlurPixels, stepToNoise: look.stepToNoise }),
  };
}

function tiltOf(
  tilt: NonNullable<FrontTrack["tilt"]>,
  traceSpeed: number,
  calibrated: CalibratedPath | null,
): NonNullable<MeasuredResult["front"]["tilt"]> {
  const { standardUncertaintyDegrees } = tilt;
  const degrees = calibrated?.sides ? tiltInPlane(tilt.degrees, calibrated.sides) : tilt.degrees;
  const normalSpeed = traceSpeed * Math.cos((degrees * Math.PI) / 180);
  return { degrees, standardUncertainty: standardUncertaintyDegrees, normalSpeed };
}

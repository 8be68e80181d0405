import type { FrontTrack } from "@frontpace/tracker";
import type { CalibratedPath } from "../path/calibrated-path.js";
import { tiltInPlane } from "../path/tilt-in-plane.js";
import type { Settings } from "../settings/settle.js";
import type { MeasuredResult } from "../types.js";

const ALONG = "velocity component along the path";
const OF_SHAPE = {
  step: `mid-level of the change averaged over the path's width, ${ALONG}`,
  pulse: `middle of the line that passes, averaged over the path's width, ${ALONG}`,
  pair: `middle between the bright line and the dark one that pass, averaged over the path's width, ${ALONG}`,
} as const;
const OF_DEPARTURES = `envelope of a cloud of changes: mid-level of the logarithm of the pixels' mean square departure from their levels before, over the path's width, ${ALONG}`;
const AT_PULSE = ", at the middle of the light pulse";

/** What of the front stands in the result, keys in the order of the file.
 *  @param traceSpeed  along the path, m/s */
export function describeFront(
  track: FrontTrack,
  traceSpeed: number,
  { lightPulseSeconds }: Settings,
  calibrated: CalibratedPath | null,
): MeasuredResult["front"] {
  const { channel, shape, firstFrame, lastFrame, direction, polarity, tilt, look } = track;
  const measurand = channel === "departures" ? OF_DEPARTURES : OF_SHAPE[shape];
  const front = {
    measurand: lightPulseSeconds === null ? measurand : measurand + AT_PULSE,
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

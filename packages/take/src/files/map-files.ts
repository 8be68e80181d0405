import type { MapQuantities } from "../types.js";
import { npyBytes } from "./npy-bytes.js";

interface MapArray {
  readonly file: string;
  readonly quantity: string;
  readonly unit: string;
}

const TIMES: readonly MapArray[] = [
  { file: "arrival-time.npy", quantity: "time of arrival since frame 0", unit: "s" },
  { file: "arrival-time-uncertainty.npy", quantity: "standard uncertainty of that time", unit: "s" },
];
const MOTION: readonly MapArray[] = [
  { file: "local-speed.npy", quantity: "local speed", unit: "m/s" },
  {
    file: "local-speed-uncertainty.npy",
    quantity: "standard uncertainty of that speed, without that of rate and scale",
    unit: "m/s",
  },
  {
    file: "local-direction.npy",
    quantity: "local direction, from x towards y: 0 to the right, 90 down the picture",
    unit: "degrees",
  },
];

/** The arrays of a map by file, quantity and unit.
 *  @param hasMotion  false where the picture has no one scale, and with it no local speed */
export function mapArrays(hasMotion: boolean): readonly MapArray[] {
  return hasMotion ? [...TIMES, ...MOTION] : TIMES;
}

/** The arrays of a map as NumPy files, by file name: float64, shape (rows, columns) of cells, NaN where nothing is said. */
export function mapFiles(quantities: MapQuantities): Record<string, Uint8Array> {
  const { shape, arrivalSeconds, arrivalUncertaintySeconds, speed, speedUncertainty, directionDegrees } =
    quantities;
  const motion =
    speed && speedUncertainty && directionDegrees ? [speed, speedUncertainty, directionDegrees] : [];
  const values = [arrivalSeconds, arrivalUncertaintySeconds, ...motion];
  return Object.fromEntries(
    mapArrays(motion.length > 0).map(({ file }, k) => [file, npyBytes(values[k], shape)]),
  );
}

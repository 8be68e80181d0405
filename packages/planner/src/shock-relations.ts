import { ISO_2533 } from "./sound-speed.js";

/** What a normal shock does to a perfect gas: behind over before. */
export interface NormalShock {
  readonly pressureRatio: number;
  readonly densityRatio: number;
  readonly temperatureRatio: number;
  /** Of the flow behind the shock, relative to it. */
  readonly machBehind: number;
}

/** Rankine-Hugoniot ratios across a normal shock.
 *  @param mach  >= 1
 *  @param gamma  ratio of specific heats, > 1. Default: 1.4, dry air
 *  @throws RangeError outside these
 *  @see NACA Report 1135 (1953), equations 93 to 96 */
export function normalShock(mach: number, gamma: number = ISO_2533.gamma): NormalShock {
  if (!(mach >= 1 && mach < Number.POSITIVE_INFINITY))
    throw new RangeError(`mach must be finite and >= 1, got ${mach}`);
  if (!(gamma > 1)) throw new RangeError(`gamma must be > 1, got ${gamma}`);
  const squared = mach ** 2;
  const pressureRatio = 1 + ((2 * gamma) / (gamma + 1)) * (squared - 1);
  const densityRatio = ((gamma + 1) * squared) / ((gamma - 1) * squared + 2);
  return {
    pressureRatio,
    densityRatio,
    temperatureRatio: pressureRatio / densityRatio,
    machBehind: Math.sqrt(((gamma - 1) * squared + 2) / (2 * gamma * squared - (gamma - 1))),
  };
}

/** Mach number from the half-angle that a bow shock tends to far from the body, M = 1/sin μ.
 *  @param halfAngleDegrees  between the shock and the axis of motion, > 0, <= 90
 *  @param standardUncertaintyDegrees  >= 0. Default: 0
 *  @throws RangeError outside these
 *  @see NACA Report 1135 (1953), Mach angle */
export function machFromHalfAngle(
  halfAngleDegrees: number,
  standardUncertaintyDegrees = 0,
): { readonly value: number; readonly standardUncertainty: number } {
  if (!(halfAngleDegrees > 0 && halfAngleDegrees <= 90))
    throw new RangeError(`halfAngleDegrees must be > 0 and <= 90, got ${halfAngleDegrees}`);
  if (!(standardUncertaintyDegrees >= 0))
    throw new RangeError(`standardUncertaintyDegrees must be >= 0, got ${standardUncertaintyDegrees}`);
  const angle = (halfAngleDegrees * Math.PI) / 180;
  const value = 1 / Math.sin(angle);
  return {
    value,
    standardUncertainty: ((value / Math.tan(angle)) * standardUncertaintyDegrees * Math.PI) / 180,
  };
}

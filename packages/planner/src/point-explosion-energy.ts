import type { Uncertain } from "./sound-speed.js";

/** α of E = α ρ R⁵/t² for γ = 1.4, a strong spherical shock from a point.
 *  @see Kamm and Timmes (2007), the standard problem; S. Hancock, tables of the point explosion: 0.851071854758 */
const SEDOV_ALPHA = 0.851072;

export interface PointExplosion {
  /** Exponent of radius against time, fitted with it and the start free, with Student's factor at 95 %. */
  readonly exponent: Uncertain & { readonly coverageFactor: number };
  /** Of all positions used. */
  readonly leastMachNumber: number;
  /** Smallest radius used, and that of the source, m. */
  readonly leastRadius: number;
  readonly sourceRadius: number;
  /** One radius, m, and the time since the start at which the shock had it, s. */
  readonly radius: Uncertain;
  readonly time: number;
  /** Of the air ahead, kg/m³. */
  readonly density: number;
  /** Default: 0.851072, for γ = 1.4. */
  readonly alpha?: number;
}

/** Either the energy, J, or why there is none. */
export type PointExplosionEnergy =
  | { readonly status: "given"; readonly energyJoules: Uncertain }
  | { readonly status: "not-given"; readonly reason: string };

const EXPONENT = 2 / 5;
const LEAST_MACH = 5;
/** The radius is well beyond the source's size (common practice, no source). */
const LEAST_RADII = 10;

/** Energy of a strong point explosion, E = α ρ R⁵/t² with u(E)/E = 5 u(R)/R, for the caption of a picture. It is given only where the
 *  similarity solution holds: a free exponent that agrees with 2/5, a Mach number above 5 throughout, and radii at least ten times
 *  that of the source.
 *  @throws RangeError on a radius, time, density or source that is not > 0
 *  @see G. I. Taylor, Proc. R. Soc. Lond. A 201 (1950) 159 and 175 */
export function pointExplosionEnergy(explosion: PointExplosion): PointExplosionEnergy {
  const { exponent, leastMachNumber, leastRadius, sourceRadius, radius, time, density } = explosion;
  const { alpha = SEDOV_ALPHA } = explosion;
  for (const [name, value] of Object.entries({
    "radius.value": radius.value,
    time,
    density,
    sourceRadius,
    leastRadius,
    alpha,
  }))
    if (!(value > 0 && value < Number.POSITIVE_INFINITY))
      throw new RangeError(`${name} must be finite and > 0, got ${value}`);
  const half = exponent.coverageFactor * exponent.standardUncertainty;
  if (!(Math.abs(exponent.value - EXPONENT) <= half))
    return notGiven(`the exponent, ${three(exponent.value)} +- ${three(half)}, does not agree with 2/5`);
  if (!(leastMachNumber > LEAST_MACH))
    return notGiven(`the Mach number falls to ${three(leastMachNumber)}, and must stay above ${LEAST_MACH}`);
  if (!(leastRadius >= LEAST_RADII * sourceRadius))
    return notGiven(
      `the radii begin at ${three(leastRadius / sourceRadius)} times that of the source, and must be at least ${LEAST_RADII} times`,
    );
  const value = (alpha * density * radius.value ** 5) / time ** 2;
  return {
    status: "given",
    energyJoules: { value, standardUncertainty: (5 * value * radius.standardUncertainty) / radius.value },
  };
}

function notGiven(reason: string): PointExplosionEnergy {
  return { status: "not-given", reason };
}

function three(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/** Speeds of waves in an isotropic solid, m/s. */
export interface WaveSpeeds {
  readonly longitudinal: number;
  readonly shear: number;
  readonly rayleigh: number;
}

/** Rayleigh speed over shear speed, by Newton's method on the secular equation x³ − 8x² + (24 − 16k)x − 16(1 − k) = 0, x = (c_R/c_T)²,
 *  k = (c_T/c_L)² = (1 − 2ν)/(2(1 − ν)): its root between 0 and 1.
 *  @param poissonRatio  ν, 0 <= ν <= 0.5
 *  @throws RangeError for another one
 *  @see Lord Rayleigh (1885); I. A. Viktorov, Rayleigh and Lamb Waves (Plenum, 1967) */
export function rayleighRatio(poissonRatio: number): number {
  if (!(poissonRatio >= 0 && poissonRatio <= 0.5))
    throw new RangeError(`poissonRatio must be from 0 to 0.5, got ${poissonRatio}`);
  const k = (1 - 2 * poissonRatio) / (2 * (1 - poissonRatio));
  // The cubic rises on (0, 1), and bends one way there: from below its root Newton's steps neither leave nor overshoot by much.
  let x = 0.8;
  for (let step = 0; step < 50; step++) {
    const value = ((x - 8) * x + 24 - 16 * k) * x - 16 * (1 - k);
    const slope = (3 * x - 16) * x + 24 - 16 * k;
    const next = x - value / slope;
    if (Math.abs(next - x) <= Number.EPSILON * x) break;
    x = next;
  }
  return Math.sqrt(x);
}

/** Poisson's ratio of a solid with these bulk speeds.
 *  @throws RangeError unless longitudinal² >= 2 shear² > 0 (a ratio below 0 is none of glass, metal or plastic) */
export function poissonRatioOf(longitudinal: number, shear: number): number {
  if (!(shear > 0 && longitudinal ** 2 >= 2 * shear ** 2))
    throw new RangeError(
      `longitudinal must be at least sqrt(2) times shear, got ${longitudinal} and ${shear}`,
    );
  return (longitudinal ** 2 - 2 * shear ** 2) / (2 * (longitudinal ** 2 - shear ** 2));
}

/** Speeds from elastic constants: c_T = sqrt(E/(2(1 + ν)ρ)), c_L = c_T sqrt(2(1 − ν)/(1 − 2ν)).
 *  @param youngsModulus  E, Pa
 *  @param density  ρ, kg/m³
 *  @throws RangeError for constants that no solid has */
export function waveSpeeds(youngsModulus: number, density: number, poissonRatio: number): WaveSpeeds {
  if (!(youngsModulus > 0 && density > 0 && poissonRatio < 0.5))
    throw new RangeError(
      `youngsModulus and density must be > 0 and poissonRatio < 0.5, got ${youngsModulus}, ${density} and ${poissonRatio}`,
    );
  const shear = Math.sqrt(youngsModulus / (2 * (1 + poissonRatio) * density));
  return {
    longitudinal: shear * Math.sqrt((2 * (1 - poissonRatio)) / (1 - 2 * poissonRatio)),
    shear,
    rayleigh: shear * rayleighRatio(poissonRatio),
  };
}

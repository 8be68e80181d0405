/** From here on the distribution is the normal one to nine digits. */
const MOST_DEGREES = 1e9;
const MOST_STEPS = 500;

/** Two-sided Student factor: t such that a share `probability` lies within ±t.
 *  @param degreesOfFreedom > 0; Infinity gives the normal factor
 *  @param probability  between 0 and 1, default 0.95
 *  @throws RangeError on an argument outside its range
 *  @see JCGM 100:2008, G.3 */
export function studentFactor(degreesOfFreedom: number, probability = 0.95): number {
  if (!(degreesOfFreedom > 0)) throw new RangeError(`degreesOfFreedom must be > 0, got ${degreesOfFreedom}`);
  if (!(probability > 0 && probability < 1))
    throw new RangeError(`probability must lie between 0 and 1, got ${probability}`);
  const nu = Math.min(degreesOfFreedom, MOST_DEGREES);
  // The share within ±t is concave in t, so that Newton's steps come to the factor from below.
  let t = 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = (probability - shareWithin(t, nu)) / (2 * density(t, nu));
    t += move;
    if (!(Math.abs(move) > 1e-14 * t)) break;
  }
  return t;
}

/** Share of Student's distribution within ±t: the incomplete beta function by a series of positive terms, of the
 *  share itself or of what lies outside, whichever converges fast.
 *  @see Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 26.5.4 and 26.7.1 (citations from memory) */
function shareWithin(t: number, nu: number): number {
  const inside = (t * t) / (nu + t * t);
  const outside = nu / (nu + t * t);
  if (inside <= 0.5) return 2 * t * density(t, nu) * sum((nu + 1) / 2, 1.5, inside);
  return 1 - (2 / nu) * t * density(t, nu) * sum((nu + 1) / 2, nu / 2 + 1, outside);
}

/** 1 + (a/c) z + (a (a + 1)/(c (c + 1))) z² + …, 0 <= z <= ½ */
function sum(a: number, c: number, z: number): number {
  let term = 1;
  let total = 1;
  for (let n = 0; term > 1e-17 * total; n++) {
    term *= ((a + n) / (c + n)) * z;
    total += term;
  }
  return total;
}

function density(t: number, nu: number): number {
  const shape = Math.exp((-(nu + 1) / 2) * Math.log1p((t * t) / nu));
  return (gammaRatio(nu / 2) / Math.sqrt(nu * Math.PI)) * shape;
}

/** Γ(a + ½)/Γ(a): the asymptotic series where a is large, and down to others by the recurrence of Γ.
 *  @see Tricomi and Erdélyi, Pacific J. Math. 1 (1951) 133 (the series; citation from memory) */
function gammaRatio(a: number): number {
  let factor = 1;
  let large = a;
  while (large < 40) {
    factor *= large / (large + 0.5);
    large++;
  }
  const z = 1 / large;
  const series =
    1 - z / 8 + z ** 2 / 128 + (5 * z ** 3) / 1024 - (21 * z ** 4) / 32768 - (399 * z ** 5) / 262144;
  return factor * Math.sqrt(large) * series;
}

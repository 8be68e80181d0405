/** Beyond this the series is slower than the continued fraction. */
const FAR = 3;
/** Beyond this erf is 1 in doubles. */
const ONE = 6;

/** Error function, to some units in the last place.
 *  @see Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 7.1.6 (the series, all of whose terms have
 *    one sign) and 7.1.14 (the continued fraction; citations from memory) */
export function erf(x: number): number {
  const size = Math.abs(x);
  if (size >= ONE) return Math.sign(x);
  return size < FAR ? series(x) : Math.sign(x) * (1 - complementFar(size));
}

function series(x: number): number {
  const square = 2 * x * x;
  let term = x;
  let sum = x;
  for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum); n++) {
    term *= square / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** 1 − erf for x >= 3, from the innermost part of the fraction outwards. */
function complementFar(x: number): number {
  let fraction = x;
  for (let n = 60; n >= 1; n--) fraction = x + n / 2 / fraction;
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * fraction);
}

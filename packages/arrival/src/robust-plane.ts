/** Points farther from the plane than this many robust standard deviations have no say. */
const FARTHEST = 4;
/** A plane needs this share of its points. */
const LEAST_SHARE = 0.6;
const ROUNDS = 3;

/** A plane t = t0 + gx x + gy y through points by least squares, those trimmed that lie far from it. Its arrays are there once: a map
 *  lays a plane about every cell, and most of the time went into lists and closures made anew for each. */
export class RobustPlane {
  /** Places and times of the points, as many as `count` says; times are to be counted from near their middle. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly t: Float64Array;
  count = 0;
  /** 1 where a point has a say. */
  readonly kept: Uint8Array;
  keptCount = 0;
  gx = 0;
  gy = 0;
  /** Mean square of the residuals of the points kept. */
  meanSquare = 0;
  /** What the variance of a residual is divided by for that of the less certain of gx and gy. */
  leverage = 0;
  #t0 = 0;
  readonly #scratch: Float64Array;

  constructor(most: number) {
    this.x = new Float64Array(most);
    this.y = new Float64Array(most);
    this.t = new Float64Array(most);
    this.kept = new Uint8Array(most);
    this.#scratch = new Float64Array(most);
  }

  /** @returns whether the points determine a plane that most of them lie on */
  fit(): boolean {
    this.kept.fill(1, 0, this.count);
    this.keptCount = this.count;
    for (let round = 0; round < ROUNDS; round++) {
      if (!this.#solve()) return false;
      const scratch = this.#scratch;
      for (let i = 0; i < this.count; i++) scratch[i] = Math.abs(this.#residual(i));
      const most = FARTHEST * (1.4826 * smallMedian(scratch, this.count) + 1e-9);
      let inside = 0;
      for (let i = 0; i < this.count; i++) if (Math.abs(this.#residual(i)) <= most) inside++;
      if (inside === this.keptCount) break;
      for (let i = 0; i < this.count; i++) this.kept[i] = Math.abs(this.#residual(i)) <= most ? 1 : 0;
      this.keptCount = inside;
    }
    if (this.keptCount < LEAST_SHARE * this.count) return false;
    let squares = 0;
    for (let i = 0; i < this.count; i++) if (this.kept[i]) squares += this.#residual(i) ** 2;
    this.meanSquare = squares / Math.max(1, this.keptCount - 3);
    return true;
  }

  /** Median of values of the points kept. */
  medianOfKept(values: Float64Array): number {
    let n = 0;
    for (let i = 0; i < this.count; i++) if (this.kept[i]) this.#scratch[n++] = values[i];
    return smallMedian(this.#scratch, n);
  }

  #residual(i: number): number {
    return this.t[i] - this.#t0 - this.gx * this.x[i] - this.gy * this.y[i];
  }

  /** Normal equations by Cholesky's decomposition, columns scaled to unit length. */
  #solve(): boolean {
    let n = 0;
    let sx = 0;
    let sy = 0;
    let sxx = 0;
    let sxy = 0;
    let syy = 0;
    let st = 0;
    let sxt = 0;
    let syt = 0;
    for (let i = 0; i < this.count; i++) {
      if (!this.kept[i]) continue;
      const x = this.x[i];
      const y = this.y[i];
      const t = this.t[i];
      n++;
      sx += x;
      sy += y;
      sxx += x * x;
      sxy += x * y;
      syy += y * y;
      st += t;
      sxt += x * t;
      syt += y * t;
    }
    const a = 1 / Math.sqrt(n);
    const b = 1 / Math.sqrt(sxx);
    const c = 1 / Math.sqrt(syy);
    const l21 = sx * a * b;
    const d22 = 1 - l21 * l21;
    if (!(d22 > 1e-12)) return false;
    const l22 = Math.sqrt(d22);
    const l31 = sy * a * c;
    const l32 = (sxy * b * c - l31 * l21) / l22;
    const d33 = 1 - l31 * l31 - l32 * l32;
    if (!(d33 > 1e-12)) return false;
    const l33 = Math.sqrt(d33);
    const z1 = st * a;
    const z2 = (sxt * b - l21 * z1) / l22;
    const z3 = (syt * c - l31 * z1 - l32 * z2) / l33;
    const w3 = z3 / l33;
    const w2 = (z2 - l32 * w3) / l22;
    this.#t0 = (z1 - l21 * w2 - l31 * w3) * a;
    this.gx = w2 * b;
    this.gy = w3 * c;
    this.leverage = Math.min(sxx, syy) - (sx * sx) / n;
    return true;
  }
}

/** Median of the first `count` values, which are put in another order: few are sorted faster than they are counted. */
function smallMedian(values: Float64Array, count: number): number {
  for (let i = 1; i < count; i++) {
    const value = values[i];
    let k = i - 1;
    while (k >= 0 && values[k] > value) {
      values[k + 1] = values[k];
      k--;
    }
    values[k + 1] = value;
  }
  const half = count >> 1;
  return count % 2 ? values[half] : (values[half - 1] + values[half]) / 2;
}

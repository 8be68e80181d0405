/** Sums of weighted squares and products, row-major; what is left out of a fit can be taken off again. */
export interface NormalEquations {
  readonly size: number;
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

export function emptyEquations(size: number): NormalEquations {
  return { size, matrix: new Float64Array(size * size), right: new Float64Array(size) };
}

/** Adds one observation: derivatives by the parameters and residual. */
export function addObservation(
  { size, matrix, right }: NormalEquations,
  derivatives: Float64Array,
  residual: number,
  weight: number,
): void {
  for (let a = 0; a < size; a++) {
    const scaled = weight * derivatives[a];
    right[a] += scaled * residual;
    for (let b = 0; b <= a; b++) matrix[a * size + b] += scaled * derivatives[b];
  }
}

/** Solves for the parameters by Cholesky's decomposition, columns scaled to unit length, with a group of observations taken off.
 *  @returns null where they do not determine all parameters */
export function solveEquations(all: NormalEquations, off?: NormalEquations): Float64Array | null {
  const { size } = all;
  const value = (a: number, b: number) => all.matrix[a * size + b] - (off ? off.matrix[a * size + b] : 0);
  const scale = Float64Array.from({ length: size }, (_, a) => 1 / Math.sqrt(value(a, a)));
  const factor = new Float64Array(size * size);
  for (let a = 0; a < size; a++)
    for (let b = 0; b <= a; b++) {
      let sum = value(a, b) * scale[a] * scale[b];
      for (let k = 0; k < b; k++) sum -= factor[a * size + k] * factor[b * size + k];
      if (a === b) {
        if (!(sum > 1e-12)) return null;
        factor[a * size + a] = Math.sqrt(sum);
      } else factor[a * size + b] = sum / factor[b * size + b];
    }
  const solution = new Float64Array(size);
  for (let a = 0; a < size; a++) {
    let sum = (all.right[a] - (off ? off.right[a] : 0)) * scale[a];
    for (let k = 0; k < a; k++) sum -= factor[a * size + k] * solution[k];
    solution[a] = sum / factor[a * size + a];
  }
  for (let a = size - 1; a >= 0; a--) {
    let sum = solution[a];
    for (let k = a + 1; k < size; k++) sum -= factor[k * size + a] * solution[k];
    solution[a] = sum / factor[a * size + a];
  }
  return solution.map((z, a) => z * scale[a]);
}

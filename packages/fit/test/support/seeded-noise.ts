/** Uniform numbers in (0, 1) from a seed (mulberry32, a 32-bit mixing generator in the public domain). */
export function seededUniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  };
}

/** Standard normal numbers from a seed (Box-Muller, one of each pair). */
export function seededNormal(seed: number): () => number {
  const uniform = seededUniform(seed);
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** `count` samples of a stationary first-order autoregressive process. */
export function autoregressive(
  count: number,
  standardDeviation: number,
  correlation: number,
  normal: () => number,
): number[] {
  const samples = [standardDeviation * normal()];
  while (samples.length < count)
    samples.push(
      correlation * samples[samples.length - 1] +
        standardDeviation * Math.sqrt(1 - correlation ** 2) * normal(),
    );
  return samples;
}

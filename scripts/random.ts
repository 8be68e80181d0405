/** Seeded random numbers (splitmix-style 32-bit mixing), so that every take can be drawn again from its seed. */
export interface Random {
  /** 0 <= value < 1 */
  uniform(low?: number, high?: number): number;
  logUniform(low: number, high: number): number;
  /** Mean 0, standard deviation 1. */
  normal(): number;
  integer(low: number, high: number): number;
  pick<T>(values: readonly T[]): T;
}

export function randomFrom(seed: number): Random {
  let state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) | 0;
  const next = () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state ^ (state >>> 16);
    z = Math.imul(z, 0x21f0aaad);
    z ^= z >>> 15;
    z = Math.imul(z, 0x735a2d97);
    return ((z ^ (z >>> 15)) >>> 0) / 4294967296;
  };
  let spare: number | null = null;
  const random: Random = {
    uniform: (low = 0, high = 1) => low + (high - low) * next(),
    logUniform: (low, high) => low * (high / low) ** next(),
    integer: (low, high) => low + Math.floor(next() * (high - low + 1)),
    pick: (values) => values[Math.floor(next() * values.length)],
    normal() {
      if (spare !== null) {
        const value = spare;
        spare = null;
        return value;
      }
      const radius = Math.sqrt(-2 * Math.log(1 - next()));
      const angle = 2 * Math.PI * next();
      spare = radius * Math.sin(angle);
      return radius * Math.cos(angle);
    },
  };
  return random;
}

/** Standard normal numbers from a seed: the generator of Marsaglia's xorshift family with 32 bits and a Weyl sequence,
 *  and the transform of Box and Muller.
 *  @see Marsaglia, J. Stat. Softw. 8 (2003) 14; Box & Muller, Ann. Math. Stat. 29 (1958) 610 (citations from memory) */
export function seededNormal(seed: number): () => number {
  let state = Math.imul(seed, 0x9e3779b9) ^ 0x6a09e667;
  let weyl = 0;
  const uniform = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    weyl = (weyl + 362437) | 0;
    return (((state + weyl) >>> 0) + 0.5) / 4294967296;
  };
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

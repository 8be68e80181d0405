/** Standard normal numbers, the same for the same seed. */
export declare function seededNormal(seed: number): () => number;
/** Numbers 0 <= u < 1, the same for the same seed (a 32-bit counter, mixed). */
export declare function seededUniform(seed: number): () => number;

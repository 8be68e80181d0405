import type { Certainty } from "./types.js";

/** An event by places of frames. */
export interface PlacedEvent {
  readonly first: number;
  readonly last: number;
  readonly kind: "stays" | "passes";
  readonly strength: number;
  readonly certainty: Certainty;
  /** Mean descriptors of frames right before and right behind it, and the noise of one sample. */
  readonly before: Float64Array;
  readonly after: Float64Array;
  readonly noise: Float64Array;
}

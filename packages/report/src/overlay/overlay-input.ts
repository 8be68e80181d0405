import type { ReportedFrontPlace, ReportedResult } from "../words/reported-result.js";

/** A frame of an event, and what its result knows of the front in it. */
export interface OverlayFrame {
  readonly number: number;
  readonly fronts: readonly {
    readonly place: ReportedFrontPlace;
    /** Drawn dashed: where the fit has it, not where it was read. */
    readonly isFitted: boolean;
  }[];
  /** s; null: not told. */
  readonly elapsedSeconds: number | null;
  /** m; null: not told. */
  readonly distanceMetres: number | null;
}

/** What is drawn over the frames of an event. */
export interface OverlayInput {
  readonly result: ReportedResult;
  /** In order of number, at least one. */
  readonly frames: readonly OverlayFrame[];
  /** Of front, text and scale bar, as #rrggbb. */
  readonly colour: string;
  /** Height of the letters, px of the picture that is drawn; it may become smaller to find room. Default: by the picture's size. */
  readonly textSize?: number;
  /** A whole number >= 1: px of the picture that is drawn in the side of a pixel of the footage. */
  readonly scale: number;
}

/** What a reader of the overlay would miss, or wonder at. */
export interface OverlayNote {
  readonly code: "text-smaller" | "text-moves" | "left-out" | "text-absent";
  readonly message: string;
}

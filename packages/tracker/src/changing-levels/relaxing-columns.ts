import { type EdgeLook, edgeAt, type GlowForm, glowAt } from "./glow-at.js";

/** How the levels change with the distance from a front: glow that runs ahead of it and falls off, a level behind it that
 *  settles. Each falls by e in its length; how large it is at each position is fitted there. */
export interface Relaxation {
  /** px; null: there is no glow. */
  readonly aheadPixels: number | null;
  /** By how much the glow ahead differs at the end of the front's run from its middle, relative to the middle; −1..1. */
  readonly growth: number;
  /** px; null: the level behind is constant. */
  readonly behindPixels: number | null;
  /** How glow and settling meet the front. */
  readonly form: GlowForm;
}

/** How a front passes one position. */
export interface Passing extends EdgeLook {
  /** How far the front has passed the position, in its own sense, shape (frames,), px. */
  readonly behindPixels: Float64Array;
  /** Part of its run, −1 at its beginning to 1 at its end: in every frame, shape (frames,), and when it passes. */
  readonly run: Float64Array;
  readonly runAtPassage: number;
}

/** What levels of that kind do at one position, besides being constant and the front's step. Both columns have no jump at the
 *  front, so that the step is all that moves with it.
 *  @returns a column of shape (frames,) for each length that is given */
export function relaxingColumns(
  { aheadPixels, growth, behindPixels, form }: Relaxation,
  passing: Passing,
): readonly Float64Array[] {
  const columns: Float64Array[] = [];
  if (aheadPixels !== null) {
    const sizeAt = (run: number) => Math.max(0, 1 + growth * run);
    const atPassage = sizeAt(passing.runAtPassage);
    columns.push(fallingAhead(passing, aheadPixels, form, (i) => sizeAt(passing.run[i]) / atPassage));
  }
  if (behindPixels !== null) {
    const mirrored = { ...passing, behindPixels: passing.behindPixels.map((behind) => -behind) };
    columns.push(fallingAhead(mirrored, behindPixels, form, () => 1));
  }
  return columns;
}

/** 1 behind, falling by e in so many px ahead. */
function fallingAhead(
  passing: Passing,
  lengthPixels: number,
  form: GlowForm,
  sizeIn: (frame: number) => number,
): Float64Array {
  return passing.behindPixels.map(
    (behind, i) => edgeAt(behind, passing) + sizeIn(i) * glowAt(behind, lengthPixels, form, passing),
  );
}

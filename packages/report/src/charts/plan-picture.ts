/** One recording mode in the picture of a plan. */
export interface PlanPoint {
  /** Height of the picture, px, > 0. */
  readonly rows: number;
  readonly columns: number;
  /** Frames in which the front would be seen, > 0. */
  readonly framesAcross: number;
  /** Frames across from which on the blur would be within its limit, were the exposure the same part of the interval; null without a
   *  limit. */
  readonly framesForBlur: number | null;
  readonly meets: boolean;
  /** Not in the camera's list, but between two heights of it. */
  readonly interpolated: boolean;
}

/** What `drawPlan` draws. */
export interface PlanPicture {
  /** At least one. */
  readonly modes: readonly PlanPoint[];
  /** Index of the chosen mode; null where there is none. */
  readonly chosen: number | null;
  /** Where none is chosen: index of the mode that comes nearest, and what to relax for it, said in full above the picture. */
  readonly nearest?: { readonly mode: number; readonly relax: string };
  /** Frames wanted, > 0. */
  readonly framesWanted: number;
  readonly title: string;
}

/** Checks a picture before anything is drawn.
 *  @throws RangeError naming argument, rule and value */
export function checkPlanPicture({ modes, chosen, nearest, framesWanted }: PlanPicture): void {
  if (modes.length === 0) throw new RangeError("modes must hold at least one mode, got 0");
  const positive = (name: string, value: number) => {
    if (!(Number.isFinite(value) && value > 0))
      throw new RangeError(`${name} must be finite and > 0, got ${value}`);
  };
  positive("framesWanted", framesWanted);
  for (const [k, { rows, framesAcross, framesForBlur }] of modes.entries()) {
    positive(`modes[${k}].rows`, rows);
    positive(`modes[${k}].framesAcross`, framesAcross);
    if (framesForBlur !== null) positive(`modes[${k}].framesForBlur`, framesForBlur);
  }
  const isIndex = (value: number) => Number.isInteger(value) && value >= 0 && value < modes.length;
  if (chosen !== null && !isIndex(chosen))
    throw new RangeError(`chosen must be an index of modes or null, got ${chosen}`);
  if (nearest && !(chosen === null && isIndex(nearest.mode)))
    throw new RangeError(
      `nearest.mode must be an index of modes where none is chosen, got ${nearest.mode} and ${chosen}`,
    );
}

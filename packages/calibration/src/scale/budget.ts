/** What makes a scale uncertain; the names stand in the budget of a speed. */
export type ScaleSource =
  | "length standard"
  | "pointing"
  | "repeat"
  | "event plane against scale plane"
  | "refraction"
  | "beyond linear propagation";

/** One line of the budget of a scale. */
export interface ScaleLine {
  readonly source: ScaleSource;
  /** A: from the statistics of readings, B: otherwise (JCGM 100:2008, 4.2, 4.3). */
  readonly type: "A" | "B";
  /** Relative to the scale. */
  readonly relativeStandardUncertainty: number;
  /** null: infinite. */
  readonly degreesOfFreedom: number | null;
}

/** Lines in quadrature, relative to the scale. */
export function combined(lines: readonly ScaleLine[]): number {
  return Math.hypot(...lines.map((line) => line.relativeStandardUncertainty));
}

export function typeB(source: ScaleSource, relativeStandardUncertainty: number): ScaleLine {
  return { source, type: "B", relativeStandardUncertainty, degreesOfFreedom: null };
}

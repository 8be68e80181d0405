import type { MeasuredResult } from "../types.js";

/** Lines of a budget that a calibrated scale has of its own: all of them are about lengths in the plane of the event. */
const OF_SCALE = ["event plane against scale plane", "obliquity", "lens", "refraction"];

/** The relative uncertainties of a speed by what a plan knows of: the parts of scale and rate joined to one line each,
 *  the other lines as they are. */
export function inputUncertainties({ value, budget }: MeasuredResult["speed"]): readonly {
  readonly source: string;
  readonly relative: number;
}[] {
  const bySource = new Map<string, number>();
  for (const { source, standardUncertainty } of budget) {
    const input = inputOf(source);
    bySource.set(input, Math.hypot(bySource.get(input) ?? 0, standardUncertainty / value));
  }
  return [...bySource].map(([source, relative]) => ({ source, relative }));
}

function inputOf(source: string): string {
  if (source.startsWith("scale: ") || OF_SCALE.includes(source)) return "scale";
  return source.startsWith("rate: ") ? "rate" : source;
}

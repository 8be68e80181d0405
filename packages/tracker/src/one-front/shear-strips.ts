import type { BrightnessField } from "../model/front-model.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** The parts of the width averaged anew so that a tilted front is an edge again. */
export interface ShearedStreak {
  /** Along the path, and beyond it as far as a front off the path shows where it is on the path. Each position is
   *  weighted by the root of the samples that it averages, so that the noise is about the same at all of them. */
  readonly field: BrightnessField;
  /** Position on the path of the field's first, px. */
  readonly firstPixels: number;
}

/** Averages the strips, each moved along the path by as much as the front is ahead in it, between pixels linearly:
 *  unlike whole pixels this moves an edge by the wanted amount on the mean of any few strips.
 *  @param strips  each row-major, shape [frames, positions]
 *  @param tangent  of the tilt: px ahead for each px off the path */
export function shearStrips(
  strips: readonly Float64Array[],
  { stripOffsetsPixels, stripCounts }: Pick<StripedStreak, "stripOffsetsPixels" | "stripCounts">,
  tangent: number,
): ShearedStreak {
  const positions = stripCounts[0].length;
  const frames = strips[0].length / positions;
  const shifts = stripOffsetsPixels.map((offset) => offset * tangent);
  const firstPixels = Math.ceil(-Math.max(...shifts));
  const columns = Math.floor(positions - 1 - Math.min(...shifts)) - firstPixels + 1;
  const data = new Float64Array(frames * columns);
  const samples = new Float64Array(columns);
  strips.forEach((strip, k) => {
    const counts = stripCounts[k];
    for (let q = 0; q < columns; q++) {
      const place = firstPixels + q + shifts[k];
      const p = Math.floor(place);
      const part = place - p;
      const next = part > 0 ? p + 1 : p;
      if (p < 0 || next >= positions) continue;
      const weight = Math.min(counts[p], counts[next]);
      samples[q] += weight;
      for (let i = 0, at = 0; i < frames; i++, at += positions)
        data[i * columns + q] += weight * ((1 - part) * strip[at + p] + part * strip[at + next]);
    }
  });
  const most = samples.reduce((a, b) => Math.max(a, b), 0);
  for (let q = 0; q < columns; q++) {
    const scale = samples[q] > 0 ? 1 / Math.sqrt(samples[q] * most) : 0;
    for (let i = 0; i < frames; i++) data[i * columns + q] *= scale;
  }
  return { field: { data, frames, positions: columns }, firstPixels };
}

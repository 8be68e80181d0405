import type { ArrivalMap } from "../../src/index.js";
import { normalFrom } from "./render.js";

/** A map whose arrivals are given in closed form.
 *  @param arrival  frame numbers; NaN: none */
export function madeMap(
  [rows, columns]: readonly [number, number],
  arrival: (x: number, y: number) => number,
  { cell = 1, noise = 0, seed = 1 } = {},
): ArrivalMap {
  const normal = normalFrom(seed);
  const times = new Float64Array(rows * columns);
  for (let i = 0; i < times.length; i++) {
    const x = ((i % columns) + 0.5) * cell - 0.5;
    const y = (Math.floor(i / columns) + 0.5) * cell - 0.5;
    times[i] = arrival(x, y) + (noise && noise * normal());
  }
  return {
    cell,
    rows,
    columns,
    arrival: times,
    standardUncertainty: times.map((time) => (Number.isNaN(time) ? Number.NaN : Math.max(noise, 1e-3))),
    change: times.map(() => 50),
    kind: "stays",
    polarity: "bright",
    earliest: Number.NEGATIVE_INFINITY,
    latest: Number.POSITIVE_INFINITY,
    levelFrames: 4,
    halfGapFrames: 3,
    noise: 1,
    flickers: false,
  };
}

import { typeset } from "../page/typeset.js";
import type { ReportedTake } from "../words/reported-result.js";
import { withUnit } from "../words/with-unit.js";

/** A length to hold against what is seen. */
export interface ScaleBar {
  /** px of the footage */
  readonly pixels: number;
  readonly text: string;
}

/** Shares of the picture's width that a bar takes at most, the first that finds room. */
const SHARES = [0.25, 0.12];

/** Bars of a round length, 1, 2 or 5 times a power of ten, from the longest. With a plane map the scale differs from place to place: the bar is that of
 *  the mean along the path, and says "about". */
export function scaleBars({ columns, metresPerPixel, calibration }: ReportedTake): ScaleBar[] {
  const bars = SHARES.map((share): ScaleBar => {
    const metres = roundBelow(share * columns * metresPerPixel);
    const text = typeset(withUnit(metres, "m"));
    return { pixels: metres / metresPerPixel, text: calibration?.planeMap ? `about ${text}` : text };
  });
  return bars.filter(({ pixels }, k) => k === 0 || pixels < bars[k - 1].pixels);
}

function roundBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value) + 1e-9);
  const digit = [5, 2, 1].find((candidate) => candidate * power <= value * (1 + 1e-9)) ?? 1;
  return digit * power;
}

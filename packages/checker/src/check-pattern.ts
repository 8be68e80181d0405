import { digits, percent } from "./digits.js";
import type { CheckLine, PatternFacts } from "./types.js";

/** Rows are worth so much less than they are where their noise is alike: that of the tracker's warning. */
const ALIKE = 0.6;

/** Whether the noise of neighbouring pixels is alike.
 *  @param effectiveRows  what the rows of the width are worth; null: not known */
export function isNoiseAlike(effectiveRows: number | null, width: number): boolean {
  return effectiveRows !== null && effectiveRows / width < ALIKE;
}

/** Blocks of a compression, and a colour mosaic. */
export function checkPattern({ pattern: { blocks, mosaic }, width, effectiveRows }: PatternFacts): CheckLine {
  const share = effectiveRows === null ? null : effectiveRows / width;
  const isAlike = isNoiseAlike(effectiveRows, width);
  const seen = [
    ...(blocks === null
      ? []
      : [
          `neighbours differ ${percent(blocks)} more across the borders of blocks of 8 px: the frames were compressed`,
        ]),
    ...(mosaic ? ["neighbouring pixels differ in turns, as under a colour mosaic"] : []),
    ...(isAlike
      ? [`the noise of neighbouring pixels is alike: ${width} rows are worth ${digits(effectiveRows!)}`]
      : []),
  ];
  const advice = [
    ...(blocks !== null || (isAlike && !mosaic) ? ["export frames without compression or resampling"] : []),
    ...(mosaic ? ["export raw frames as one channel of the mosaic, or use a monochrome camera"] : []),
  ];
  return {
    check: "pattern",
    verdict: seen.length > 0 ? "warn" : "pass",
    message: seen.length > 0 ? seen.join("; ") : "no blocks of a compression, and no mosaic",
    advice: advice.length > 0 ? advice.join("; ") : null,
    values: { blocks, mosaic: mosaic ? 1 : 0, effectiveRowShare: share },
  };
}

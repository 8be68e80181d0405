import { digits, percent } from "./digits.js";
import type { CheckLine, ExposureFacts } from "./types.js";

/** Share of saturated samples from which on a front is placed wrongly in them: that of the tracker's warning. */
const SATURATED = 0.001;
/** Stops between the brightest sample and white: less, and a bright front may saturate; more, and light is wasted
 *  (common practice, no source). */
const HEADROOM = { least: 0.3, most: 4 };

/** Saturated share and headroom. */
export function checkExposure({ brightest: { value, share }, white }: ExposureFacts): CheckLine {
  const line = { check: "exposure" } as const;
  if (white === null)
    return {
      ...line,
      verdict: "not-checked",
      message: `the brightest sample is ${digits(value)}; samples of floating point have no white to be held against`,
      advice: null,
      values: { saturatedShare: null, headroomStops: null, brightest: value },
    };
  const isWhite = value >= white;
  const saturatedShare = isWhite ? share : 0;
  const headroomStops = value > 0 ? Math.log2(white / value) : null;
  const values = { saturatedShare, headroomStops, brightest: value };
  if (headroomStops === null)
    return {
      ...line,
      verdict: "warn",
      message: "all samples are 0",
      advice: "give light, or take the cap off",
      values,
    };
  const seen = `${percent(saturatedShare)} of the samples are saturated, the brightest stands at ${value} of ${white}: ${digits(headroomStops)} stops of headroom`;
  const warn = (advice: string): CheckLine => ({ ...line, verdict: "warn", message: seen, advice, values });
  if (saturatedShare >= SATURATED) return warn("shorten the exposure, close the aperture or take light away");
  if (headroomStops < HEADROOM.least)
    return warn("leave room for a front that is brighter than the picture: shorten the exposure a little");
  if (headroomStops > HEADROOM.most)
    return warn("give more light, or open the aperture: most of the range is not used");
  return { ...line, verdict: "pass", message: seen, advice: null, values };
}

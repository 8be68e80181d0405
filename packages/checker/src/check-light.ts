import { digits, percent } from "./digits.js";
import type { CheckLine, LightFacts } from "./types.js";

/** Light that varies by less, peak to peak, is called steady (common practice, no source). */
const STEADY = 0.01;
/** A repeated variation explains what is seen where it makes up this part of it. */
const REPEATS = 0.5;
/** Fewer do not tell light that varies from noise. */
const FEWEST_FRAMES = 4;
/** A lamp on the mains goes by this frequency, to a hundredth. */
const MAINS_HZ = [100, 120];
const MAINS_NEAR = 0.01;

/** Flicker and ripple of the lamps: period and depth. */
export function checkLight({
  frames,
  depth,
  isShared,
  standardUncertainty,
  periodic,
  rateHz,
}: LightFacts): CheckLine {
  const repeats = depth !== null && periodic !== null && periodic.depth > REPEATS * depth ? periodic : null;
  const seen = repeats?.depth ?? depth;
  const periodFrames = repeats ? 1 / repeats.cyclesPerFrame : null;
  const frequencyHz = repeats && rateHz !== null ? repeats.cyclesPerFrame * rateHz : null;
  const frequencyUncertaintyHz = repeats && rateHz !== null ? repeats.standardUncertainty * rateHz : null;
  const values = {
    depth: seen ?? 0,
    standardUncertainty,
    periodFrames,
    periodUncertaintyFrames: repeats && repeats.standardUncertainty / repeats.cyclesPerFrame ** 2,
    frequencyHz,
    frequencyUncertaintyHz,
  };
  const line = { check: "light", values } as const;
  if (frames < FEWEST_FRAMES)
    return {
      check: "light",
      verdict: "not-checked",
      message: `fewer than ${FEWEST_FRAMES} frames do not tell how the light varies`,
      advice: null,
      values: {},
    };
  if (seen === null)
    return {
      ...line,
      verdict: "pass",
      message: `the light varies no more over ${frames} frames than noise explains: ${percent(standardUncertainty)} (k = 1) in one`,
      advice: null,
    };
  if (!isShared)
    return {
      ...line,
      verdict: "warn",
      message:
        "the picture changes, and not all of it alike: something runs or moves in these frames, and the lamps cannot be judged",
      advice:
        "film frames in which nothing runs, or name some (--frames), and keep a lamp that flickers by itself off the path (--path)",
    };
  const how = repeats
    ? `in a period of ${digits(periodFrames!)} frames${frequencyHz === null ? "" : `, ${digits(frequencyHz)} Hz at the stated rate`}`
    : `over ${frames} frames, and not in a period that shows`;
  const message = `the brightness of the picture varies by ${percent(seen)} peak to peak, ${how}`;
  if (seen <= STEADY) return { ...line, verdict: "pass", message, advice: null };
  const mains = MAINS_HZ.find((hz) => frequencyHz !== null && Math.abs(frequencyHz / hz - 1) < MAINS_NEAR);
  return { ...line, verdict: "warn", message, advice: adviceOn(mains, repeats !== null) };
}

function adviceOn(mains: number | undefined, repeats: boolean): string {
  if (mains !== undefined) return `that is a lamp on mains of ${mains / 2} Hz: take lamps on direct current`;
  if (repeats)
    return "take lamps on direct current, or without pulse-width dimming (dim by distance). A ripple faster than half the rate shows at another period than its own";
  return "let the lamps warm up, and keep other light and shadows off; measure divides out what the whole picture shares";
}

import { pixelAspect } from "../samples/pixel-aspect.js";
import { limitedRange, sampleRange } from "../samples/sample-range.js";
import type { FrameWarning } from "../types.js";
import type { ClipFacts, ClipIndex } from "./clip-index.js";
import type { ClipSamples } from "./clip-samples.js";

/** Intervals that depart from even ones by less of an interval than this do so by rounding. */
const EVEN = 0.05;
/** Codecs that keep every sample. */
const LOSSLESS = new Set("ffv1 huffyuv ffvhuff utvideo magicyuv rawvideo v210 png qtrle".split(" "));

/** What the user should know of a clip. */
export function clipWarnings(
  name: string,
  facts: ClipFacts,
  { bits, hasChroma }: Pick<ClipSamples, "bits" | "hasChroma">,
  { count, statedTicks, isShort }: ClipIndex,
  secondsPerTick: number,
): FrameWarning[] {
  const warnings: FrameWarning[] = [playbackRate(name, facts)];
  const codec = facts.get("codec_name") ?? "unknown codec";
  if (!LOSSLESS.has(codec))
    warnings.push({
      code: "lossy-clip",
      message: `${name} is compressed with a codec that smooths (${codec}): that can hide that its frames are blends of others, made when it was converted to another rate, and a speed would be wrong by the ratio of the two. Be sure that it was not converted, or take the file as the camera wrote it`,
    });
  const uneven = statedTicks && unevenIntervals(statedTicks);
  if (uneven) {
    const [shortest, longest] = uneven.map((interval) => Number((interval * secondsPerTick).toPrecision(4)));
    warnings.push({
      code: "variable-rate",
      message: `${name} shows its frames at intervals from ${shortest} s to ${longest} s: frames may have been dropped or repeated in recording or on export. They are numbered as they follow one another, each one step from the last`,
    });
  }
  if (isLimited(facts, hasChroma)) {
    const says =
      facts.get("color_range") === "tv" ? "states limited range" : "states no range, by rule limited";
    warnings.push(limitedRange(name, says, sampleRange(bits, true)));
  }
  warnings.push(...pixelAspect(name, facts.get("sample_aspect_ratio")));
  if (isShort)
    warnings.push({
      code: "truncated",
      message: `${name} is cut short: the first ${count} frames are there as a whole, with none missing between them, and are used. Copy or export it again if the event is missing`,
    });
  return warnings;
}

/** Whether black and white lie within the range of the samples: stated, or by rule where luma comes with chroma and nothing is stated. */
export function isLimited(facts: ClipFacts, hasChroma: boolean): boolean {
  const stated = facts.get("color_range");
  return stated === "tv" || (hasChroma && stated !== "pc");
}

function playbackRate(name: string, facts: ClipFacts): FrameWarning {
  const [frames, seconds] = (facts.get("avg_frame_rate") ?? "").split("/").map(Number);
  const rate = frames > 0 && seconds > 0 ? `${Number((frames / seconds).toPrecision(6))} frames/s` : "a rate";
  return {
    code: "playback-rate",
    message: `${name} states ${rate} for playback: that is not the rate at which it was recorded, and is not used`,
  };
}

/** @returns shortest and longest interval in ticks; null where all are even but for rounding to whole ticks */
function unevenIntervals(ticks: Float64Array): readonly [number, number] | null {
  if (ticks.length < 3) return null;
  const last = ticks.length - 1;
  const mean = (ticks[last] - ticks[0]) / last;
  const allowed = Math.max(1, EVEN * mean);
  let [isEven, shortest, longest] = [true, Number.POSITIVE_INFINITY, 0];
  for (let i = 1; i <= last; i++) {
    const interval = ticks[i] - ticks[i - 1];
    shortest = Math.min(shortest, interval);
    longest = Math.max(longest, interval);
    if (Math.abs(ticks[i] - ticks[0] - i * mean) > allowed) isEven = false;
  }
  return isEven ? null : [shortest, longest];
}

import type { FrontLine } from "@frontpace/tracker";
import type { Settings } from "../settings/settle.js";
import { frameAt } from "../settings/timestamps.js";

/** Number of the frame at a time counted in frames, where a table says when they were taken. */
export function frameOf(timeFrames: number, { timestamps, rateHz }: Settings): number {
  return timestamps ? frameAt(timestamps, rateHz.value, timeFrames) : timeFrames;
}

/** Lines along the path in metres and seconds. */
export function linesOf(lines: readonly FrontLine[], settings: Settings) {
  const { rateHz, metresPerPixel } = settings;
  const metresPerSecond = rateHz.value * metresPerPixel.value;
  return lines.map((line) => ({
    speed: Math.abs(line.slopePixelsPerFrame) * metresPerSecond,
    standardUncertainty: line.standardUncertaintyPixelsPerFrame * metresPerSecond,
    firstFrame: frameOf(line.firstFrame, settings),
    lastFrame: frameOf(line.lastFrame, settings),
    fromPixels: line.fromPixels,
    toPixels: line.toPixels,
  }));
}

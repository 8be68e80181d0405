import type { ReportedResult, ReportedTake } from "./reported-result.js";
import { twoDigits } from "./round.js";

/** The frames that were read and, in a long take, where they were found. */
export function framesTexts({ search, take, notFound }: ReportedResult): string[] {
  if (!search) return [`read: ${takeText(take)}`];
  const { frames, framesRead, events } = search;
  if (notFound?.reason === "no-event" || notFound?.reason === "event-too-long")
    return [`searched: ${takeText(take)}; ${framesRead} of them read`];
  const { firstFrame, lastFrame, kind } = events[0];
  const more = events.length === 1 ? "" : `, the strongest of ${events.length} events`;
  return [
    `found: frames ${firstFrame} to ${lastFrame} of ${frames} (${kind}${more}; ${framesRead} read)`,
    `read: ${takeText(take)}`,
  ];
}

function takeText(take: ReportedTake): string {
  const absent = Math.round((take.lastFrame - take.firstFrame) / (take.frameStep ?? 1)) + 1 - take.frames;
  const gaps = absent > 0 ? `${absent} of them absent` : "no gaps";
  const step = take.frameStep === null || take.frameStep === 1 ? "" : `, every ${take.frameStep}th frame`;
  return `${take.name}, ${take.frames} ${take.frames === 1 ? "frame" : "frames"} of ${take.columns} x ${take.rows} px, ${take.bitDepth} bit, numbers ${take.firstFrame} to ${take.lastFrame}${step} (${gaps})`;
}

/** What a calibration makes of the scale along the path, and what it assumes: a sentence each. */
export function scaleTexts({ calibration, metresPerPixel }: ReportedTake): string[] {
  if (!calibration) return [];
  const assumed = `assuming that ${calibration.assumed.join("; that ")}`;
  if (!calibration.planeMap) return [`scale: one for the whole picture, ${assumed}`];
  const millimetres = (metres: number) => `${Number((1e3 * metres).toPrecision(4))} mm`;
  const {
    leastMetresPerPixel: least,
    greatestMetresPerPixel: greatest,
    singleScaleError: error,
  } = calibration;
  return [
    `scale: ${millimetres(metresPerPixel)} a pixel on average along the path, ${millimetres(least)} to ${millimetres(greatest)}; the single scale of the calibration would be wrong by ${error < 0 ? "-" : "+"}${twoDigits(100 * Math.abs(error))} % on the whole path`,
    assumed,
  ];
}

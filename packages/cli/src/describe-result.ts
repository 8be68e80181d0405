import { statusInWords } from "@frontpace/planner";
import type { TakeResult } from "@frontpace/take";
import { describeBranches } from "./describe-branches.js";
import { describeBudget } from "./describe-budget.js";
import { describeComparison } from "./describe-comparison.js";
import { describeModel } from "./describe-model.js";
import { describeShape } from "./describe-shape.js";
import { roundPair, twoDigits } from "./round.js";
import { speedText } from "./speed-text.js";
import { percentText, wholeNumber } from "./with-unit.js";
import { wrapText } from "./wrap-text.js";

type Measured = Extract<TakeResult, { status: "measured" }>;

const caution = "Not for legal or safety certification: check the pictures before you rely on the number.";

export interface DescribeOptions {
  /** The whole budget of the speed, not its three largest lines only. Default: false. */
  readonly budget?: boolean;
  /** No caution at the end. Default: false. */
  readonly quiet?: boolean;
}

/** The result as lines for a person.
 *  @param files  paths written, as they are to be shown */
export function describeResult(
  result: TakeResult,
  files: readonly string[],
  { budget = false, quiet = false }: DescribeOptions = {},
): string {
  const lines = [
    ...describeFrames(result),
    ...describeShape(result),
    ...describeBranches(result),
    ...describeOutcome(result, budget),
    ...describeMaterial(result),
    ...(result.comparison ? ["", ...describeComparison(result.comparison)] : []),
    "",
    "written:",
  ];
  const end = quiet ? [] : ["", caution];
  return `${[...lines, ...files.map((file) => `  ${file}`), ...end].join("\n")}\n`;
}

/** The frames that were read and, in a long take, where they were found. */
function describeFrames({ search, take, notFound }: TakeResult): string[] {
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

function takeText(take: TakeResult["take"]): string {
  const absent = Math.round((take.lastFrame - take.firstFrame) / (take.frameStep ?? 1)) + 1 - take.frames;
  const gaps = absent > 0 ? `${absent} of them absent` : "no gaps";
  const step = take.frameStep === null || take.frameStep === 1 ? "" : `, every ${take.frameStep}th frame`;
  return `${take.name}, ${take.frames} ${take.frames === 1 ? "frame" : "frames"} of ${take.columns} x ${take.rows} px, ${take.bitDepth} bit, numbers ${take.firstFrame} to ${take.lastFrame}${step} (${gaps})`;
}

function describeMaterial({ material, status }: TakeResult): string[] {
  if (!material || material.shareOfRayleigh === null) return [];
  const { name, rayleighSpeed, shareOfRayleigh, source, status: known } = material;
  const least = status === "bounded" ? "at least " : "";
  return [
    `${name}: ${least}${percentText(shareOfRayleigh)} of the Rayleigh speed, ${wholeNumber(rayleighSpeed)} m/s, from constants of ${source} (${statusInWords(known)})`,
  ];
}

function describeOutcome(result: TakeResult, wholeBudget: boolean): string[] {
  if (result.status === "not-found") {
    const { reason, message } = result.notFound;
    if (reason === "several-fronts" && result.branches)
      return [
        "front: none of the cracks was chosen: choose one with --front, or give --path and --frames in which only one runs",
        `speed: ${speedText(result)}`,
      ];
    if (reason === "several-fronts")
      return [
        `front: ${result.fronts?.length} on the path, and none was chosen: choose one with --front, or give --path and --frames in which only one runs`,
        ...describeLines(result.fronts),
        `speed: ${speedText(result)}`,
      ];
    return [
      `front: none found (${reason}): ${message}`,
      ...describeLines(result.fronts),
      `speed: ${speedText(result)}`,
    ];
  }
  if (result.status === "bounded") {
    const { lastFrameBefore, firstFrameAfter, lengthPixels, missing } = result.lowerBound;
    return [
      `front: ran over ${Math.floor(lengthPixels)} px of the path between frames ${lastFrameBefore} and ${firstFrameAfter}, too fast to follow at this rate`,
      `speed: ${speedText(result)}${without(missing)}`,
      ...scaleLines(result.take),
    ];
  }
  return describeMeasured(result, wholeBudget);
}

function describeMeasured(result: Measured, wholeBudget: boolean): string[] {
  const { front, speed, take } = result;
  const low = roundPair(speed.value - speed.expandedUncertainty, speed.expandedUncertainty).value;
  const high = roundPair(speed.value + speed.expandedUncertainty, speed.expandedUncertainty).value;
  const isCloud = front.channel === "departures";
  const lines = [
    `front: ${isCloud ? "a cloud of bright and dark" : front.polarity}, ran ${heading(front.direction)}, in frames ${front.firstFrame} to ${front.lastFrame} (${front.framesUsed} used)`,
    `speed: ${speedText(result)} (95 % interval ${low} to ${high} m/s, k = ${speed.coverageFactor.toFixed(2)}${without(speed.missing)})`,
    ...(isCloud
      ? [
          "read in: the departures of single pixels from their levels before, because brightness averaged across the path does not show it so well; the speed is that of the cloud's envelope",
        ]
      : []),
    ...describeModel(result.model),
    ...scaleLines(take),
    ...describeBudget(speed, wholeBudget),
  ];
  if (result.fronts && !result.branches)
    lines.push(`fronts on the path, of which this is number ${take.front}:`, ...describeLines(result.fronts));
  if (result.alternatives) lines.push("it may also be read as:", ...describeLines(result.alternatives));
  if (front.tilt && Math.abs(front.tilt.degrees) > 5) {
    const { degrees, standardUncertainty, normalSpeed } = front.tilt;
    const angle = roundPair(degrees, standardUncertainty);
    const normal = roundPair(normalSpeed, speed.expandedUncertainty).value;
    lines.push(
      `tilt: ${angle.value} deg (u = ${angle.halfWidth} deg); along its own normal the front ran at ${normal} m/s`,
    );
  }
  return lines;
}

/** What a calibration makes of the scale along the path, and what it assumes. */
function scaleLines({ calibration, metresPerPixel }: TakeResult["take"]): string[] {
  if (!calibration) return [];
  const assumed = `assuming that ${calibration.assumed.join("; that ")}`;
  if (!calibration.planeMap) return wrapText(`scale: one for the whole picture, ${assumed}`, 100, "  ");
  const millimetres = (metres: number) => `${Number((1e3 * metres).toPrecision(4))} mm`;
  const {
    leastMetresPerPixel: least,
    greatestMetresPerPixel: greatest,
    singleScaleError: error,
  } = calibration;
  return [
    `scale: ${millimetres(metresPerPixel)} a pixel on average along the path, ${millimetres(least)} to ${millimetres(greatest)}; the single scale of the calibration would be wrong by ${error < 0 ? "-" : "+"}${twoDigits(100 * Math.abs(error))} % on the whole path`,
    ...wrapText(`  ${assumed}`, 100, "  "),
  ];
}

/** Lines along the path, numbered. */
function describeLines(lines: Measured["fronts"] = []): string[] {
  return lines.map(({ speed, standardUncertainty, firstFrame, lastFrame, fromPixels, toPixels }, k) => {
    const { value, halfWidth } = roundPair(speed, standardUncertainty);
    return `  ${k + 1}: ${value} m/s (u = ${halfWidth} m/s), from ${Math.round(fromPixels) || 0} px in frame ${firstFrame} to ${Math.round(toPixels) || 0} px in frame ${lastFrame}`;
  });
}

function without(missing: readonly string[]): string {
  return missing.length === 0 ? "" : `, without the uncertainty of the ${missing.join(" and ")}`;
}

/** The picture's directions; rows count downwards. */
function heading([dx, dy]: readonly [number, number]): string {
  const sideways = dx > 0.38 ? "right" : dx < -0.38 ? "left" : "";
  const upright = dy > 0.38 ? "down" : dy < -0.38 ? "up" : "";
  const words = [upright, sideways].filter((word) => word !== "").join(" and ");
  return `${words} (x ${dx.toFixed(2)}, y ${dy.toFixed(2)})`;
}

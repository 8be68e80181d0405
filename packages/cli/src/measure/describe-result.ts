import { describeAir, describeMaterial } from "@frontpace/batch";
import {
  caution,
  channelTexts,
  describeBranches,
  describeModel,
  describeShape,
  framesTexts,
  frontText,
  intervalText,
  lineTexts,
  scaleTexts,
  speedText,
  tiltTexts,
  withoutText,
} from "@frontpace/report/words";
import type { TakeResult } from "@frontpace/take";
import { describeComparison } from "../compare/describe-comparison.js";
import { wrapText } from "../terminal/wrap-text.js";
import { describeBudget } from "./describe-budget.js";

type Measured = Extract<TakeResult, { status: "measured" }>;

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
  const surroundings = [describeMaterial(result), describeAir(result)];
  const lines = [
    ...framesTexts(result),
    ...describeShape(result),
    ...describeBranches(result),
    ...describeOutcome(result, budget),
    ...surroundings.flatMap((text) => text ?? []),
    ...(result.comparison ? ["", ...describeComparison(result.comparison)] : []),
    "",
    "written:",
  ];
  const end = quiet ? [] : ["", caution];
  return `${[...lines, ...files.map((file) => `  ${file}`), ...end].join("\n")}\n`;
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
        ...numbered(result.fronts),
        `speed: ${speedText(result)}`,
      ];
    return [
      `front: none found (${reason}): ${message}`,
      ...numbered(result.fronts),
      `speed: ${speedText(result)}`,
    ];
  }
  if (result.status === "bounded") {
    const { lastFrameBefore, firstFrameAfter, lengthPixels, missing } = result.lowerBound;
    return [
      `front: ran over ${Math.floor(lengthPixels)} px of the path between frames ${lastFrameBefore} and ${firstFrameAfter}, too fast to follow at this rate`,
      `speed: ${speedText(result)}${withoutText(missing)}`,
      ...scaleLines(result.take),
    ];
  }
  return describeMeasured(result, wholeBudget);
}

function describeMeasured(result: Measured, wholeBudget: boolean): string[] {
  const { front, speed, take } = result;
  const lines = [
    frontText(front, result),
    `speed: ${speedText(result)} (95 % interval ${intervalText(speed)}, k = ${speed.coverageFactor.toFixed(2)}${withoutText(speed.missing)})`,
    ...channelTexts(front),
    ...describeModel(result.model),
    ...scaleLines(take),
    ...describeBudget(speed, wholeBudget),
  ];
  if (result.fronts && !result.branches)
    lines.push(`fronts on the path, of which this is number ${take.front}:`, ...numbered(result.fronts));
  if (result.alternatives) lines.push("it may also be read as:", ...numbered(result.alternatives));
  return [...lines, ...tiltTexts(front, speed)];
}

function scaleLines(take: TakeResult["take"]): string[] {
  const [scale, ...assumed] = scaleTexts(take);
  if (scale === undefined) return [];
  if (assumed.length === 0) return wrapText(scale, 100, "  ");
  return [scale, ...assumed.flatMap((text) => wrapText(`  ${text}`, 100, "  "))];
}

function numbered(lines: Measured["fronts"]): string[] {
  return lineTexts(lines).map((text, k) => `  ${k + 1}: ${text}`);
}

import type { TakeResult } from "@frontpace/take";
import { roundPair, twoDigits } from "./round.js";
import { speedText } from "./speed-text.js";

type Measured = Extract<TakeResult, { status: "measured" }>;
type BudgetLine = Measured["speed"]["budget"][number];

const caution = "Not for legal or safety certification: check the pictures before you rely on the number.";

/** The result as lines for a person.
 *  @param files  paths written, as they are to be shown */
export function describeResult(result: TakeResult, files: readonly string[]): string {
  const lines = [describeTake(result.take), ...describeOutcome(result), "", "written:"];
  return `${[...lines, ...files.map((file) => `  ${file}`), "", caution].join("\n")}\n`;
}

function describeTake(take: TakeResult["take"]): string {
  const absent = Math.round((take.lastFrame - take.firstFrame) / (take.frameStep ?? 1)) + 1 - take.frames;
  const gaps = absent > 0 ? `${absent} of them absent` : "no gaps";
  const step = take.frameStep === null || take.frameStep === 1 ? "" : `, every ${take.frameStep}th frame`;
  return `read: ${take.name}, ${take.frames} ${take.frames === 1 ? "frame" : "frames"} of ${take.columns} x ${take.rows} px, ${take.bitDepth} bit, numbers ${take.firstFrame} to ${take.lastFrame}${step} (${gaps})`;
}

function describeOutcome(result: TakeResult): string[] {
  if (result.status === "not-found") {
    const { reason, message } = result.notFound;
    return [`front: none found (${reason}): ${message}`, `speed: ${speedText(result)}`];
  }
  if (result.status === "bounded") {
    const { lastFrameBefore, firstFrameAfter, lengthPixels, missing } = result.lowerBound;
    return [
      `front: ran over ${Math.floor(lengthPixels)} px of the path between frames ${lastFrameBefore} and ${firstFrameAfter}, too fast to follow at this rate`,
      `speed: ${speedText(result)}${without(missing)}`,
    ];
  }
  return describeMeasured(result);
}

function describeMeasured(result: Measured): string[] {
  const { front, speed } = result;
  const low = roundPair(speed.value - speed.expandedUncertainty, speed.expandedUncertainty).value;
  const high = roundPair(speed.value + speed.expandedUncertainty, speed.expandedUncertainty).value;
  const lines = [
    `front: ${front.polarity}, ran ${heading(front.direction)}, in frames ${front.firstFrame} to ${front.lastFrame} (${front.framesUsed} used)`,
    `speed: ${speedText(result)} (95 % interval ${low} to ${high} m/s, k = ${speed.coverageFactor.toFixed(2)}${without(speed.missing)})`,
  ];
  const variance = speed.budget.reduce((sum, line) => sum + line.standardUncertainty ** 2, 0);
  if (variance > 0) {
    const shares = speed.budget.map((line) => describeShare(line, variance));
    lines.push("where the uncertainty comes from (share of the variance):", ...shares);
  }
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

/** One line of the budget; a rate or scale stated with +-0 has no share. */
function describeShare({ source, type, standardUncertainty }: BudgetLine, variance: number): string {
  if (type === "B" && standardUncertainty === 0) return `  ${source}: exact`;
  const share = percent((100 * standardUncertainty ** 2) / variance);
  return `  ${source}: ${share} (${twoDigits(standardUncertainty)} m/s, type ${type})`;
}

function without(missing: readonly string[]): string {
  return missing.length === 0 ? "" : `, without the uncertainty of the ${missing.join(" and ")}`;
}

function percent(share: number): string {
  if (share > 0 && share < 0.1) return "under 0.1 %";
  return `${share.toFixed(share < 10 ? 1 : 0)} %`;
}

/** The picture's directions; rows count downwards. */
function heading([dx, dy]: readonly [number, number]): string {
  const sideways = dx > 0.38 ? "right" : dx < -0.38 ? "left" : "";
  const upright = dy > 0.38 ? "down" : dy < -0.38 ? "up" : "";
  const words = [upright, sideways].filter((word) => word !== "").join(" and ");
  return `${words} (x ${dx.toFixed(2)}, y ${dy.toFixed(2)})`;
}

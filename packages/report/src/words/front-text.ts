import type { ReportedFront, ReportedLine, ReportedResult, ReportedSpeed } from "./reported-result.js";
import { roundPair } from "./round.js";

/** A tilt beyond this, degrees, is said, and the speed along the normal with it. */
const TILTED = 5;

/** What the front was, which way and in which frames it ran: a round one, which has no direction, outwards or inwards. */
export function frontText(front: ReportedFront, result: Pick<ReportedResult, "shape" | "take">): string {
  const kind = front.channel === "departures" ? "a cloud of bright and dark" : front.polarity;
  return `front: ${kind}, ran ${alongRadius(front, result) ?? heading(front.direction)}, in frames ${front.firstFrame} to ${front.lastFrame} (${front.framesUsed} used)`;
}

/** Where the front was not read in brightness: in what, and what the speed then is. */
export function channelTexts({ channel }: ReportedFront): string[] {
  if (channel !== "departures") return [];
  return [
    "read in: the departures of single pixels from their levels before, because brightness averaged across the path does not show it so well; the speed is that of the cloud's envelope",
  ];
}

/** The tilt of a front that meets its path at an angle, and its speed along its own normal. */
export function tiltTexts({ tilt }: ReportedFront, speed: ReportedSpeed): string[] {
  if (!tilt || Math.abs(tilt.degrees) <= TILTED) return [];
  const angle = roundPair(tilt.degrees, tilt.standardUncertainty);
  const normal = roundPair(tilt.normalSpeed, speed.expandedUncertainty).value;
  return [
    `tilt: ${angle.value} deg (u = ${angle.halfWidth} deg); along its own normal the front ran at ${normal} m/s`,
  ];
}

/** Lines along the path, in words. */
export function lineTexts(lines: readonly ReportedLine[] = []): string[] {
  return lines.map(({ speed, standardUncertainty, firstFrame, lastFrame, fromPixels, toPixels }) => {
    const { value, halfWidth } = roundPair(speed, standardUncertainty);
    return `${value} m/s (u = ${halfWidth} m/s), from ${Math.round(fromPixels) || 0} px in frame ${firstFrame} to ${Math.round(toPixels) || 0} px in frame ${lastFrame}`;
  });
}

/** Inputs whose uncertainty is not in an interval, behind it; empty where all are. */
export function withoutText(missing: readonly string[]): string {
  return missing.length === 0 ? "" : `, without the uncertainty of the ${missing.join(" and ")}`;
}

/** Said where an input came without its uncertainty. */
export function readingText(missing: readonly string[]): string {
  return `A reading only${withoutText(missing)}, which was not stated.`;
}

/** The ends of the 95 % interval of a speed, m/s, to the digits of its half-width. */
export function intervalText({
  value,
  expandedUncertainty: half,
}: Pick<ReportedSpeed, "value" | "expandedUncertainty">): string {
  return `${roundPair(value - half, half).value} to ${roundPair(value + half, half).value} m/s`;
}

/** The front's direction is that of one ray. */
function alongRadius(
  { direction }: ReportedFront,
  { shape, take }: Pick<ReportedResult, "shape" | "take">,
): string | null {
  if (shape?.measuredAlong !== "radius" || !shape.circle) return null;
  const { axes, origin } = shape.circle;
  const [ox, oy] = (axes?.differ ? axes.origin : undefined) ?? origin;
  const [x, y] = take.path[1];
  return direction[0] * (x - ox) + direction[1] * (y - oy) >= 0 ? "outwards" : "inwards";
}

/** The picture's directions; rows count downwards. */
function heading([dx, dy]: readonly number[]): string {
  const sideways = dx > 0.38 ? "right" : dx < -0.38 ? "left" : "";
  const upright = dy > 0.38 ? "down" : dy < -0.38 ? "up" : "";
  const words = [upright, sideways].filter((word) => word !== "").join(" and ");
  return `${words} (x ${dx.toFixed(2)}, y ${dy.toFixed(2)})`;
}

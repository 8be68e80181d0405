import type { Found } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { seenPositions } from "../one-front/seen-positions.js";
import type { SortedReadings } from "../several-fronts/sort-readings.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontLine } from "../types.js";

/** Another reading of a front is worth a word where its speed differs by this many standard uncertainties, and by this
 *  part of the speed, and where this part of the front's positions show it. */
const APART = 3;
const LEAST_DIFFERENCE = 0.02;
const LEAST_SEEN = 0.4;
/** A reading less sure than this says nothing. */
const MOST_UNSURE = 0.05;

/** The line of a followed front; null where none was followed. */
export function frontLine(streak: StripedStreak, { front, kept }: Found): FrontLine | null {
  if (!front) return null;
  const { line, frames } = front;
  const numberOf = (frame: number) => streak.frameNumbers[kept[frame]];
  const firstFrame = numberOf(frames[0]);
  const lastFrame = numberOf(frames[frames.length - 1]);
  return {
    slopePixelsPerFrame: line.slope,
    standardUncertaintyPixelsPerFrame: line.slopeStandardUncertainty,
    firstFrame,
    lastFrame,
    fromPixels: line.intercept + line.slope * firstFrame,
    toPixels: line.intercept + line.slope * lastFrame,
  };
}

/** Other readings of the same front that give another speed: of its first changes where it was read from the strongest
 *  ones, or the other way round. */
export function alternativesOf(
  streak: StripedStreak,
  { front }: Found,
  others: SortedReadings["others"],
): readonly FrontLine[] {
  if (!front) return [];
  const seen = new Set(seenPositions(front));
  return others.flatMap((other) => {
    const reading = other.front;
    if (!reading || relativeUncertainty(reading) > MOST_UNSURE) return [];
    const difference = Math.abs(reading.line.slope - front.line.slope);
    const uncertainty = Math.hypot(
      reading.line.slopeStandardUncertainty,
      front.line.slopeStandardUncertainty,
    );
    const isOther =
      difference > APART * uncertainty && difference > LEAST_DIFFERENCE * Math.abs(front.line.slope);
    const shared = seenPositions(reading).filter((position) => seen.has(position));
    const line = frontLine(streak, other);
    return line && isOther && shared.length > LEAST_SEEN * seen.size ? [line] : [];
  });
}

/** The line in words, its frames by their numbers as stored, which a table of times is not counted in. */
export function lineInWords(
  line: FrontLine,
  { frameNumbers, storedNumbers }: Pick<StripedStreak, "frameNumbers" | "storedNumbers">,
): string {
  const { slopePixelsPerFrame, firstFrame, lastFrame, fromPixels, toPixels } = line;
  const storedAs = (time: number) => storedNumbers[frameNumbers.indexOf(time)];
  return `from ${whole(fromPixels)} px in frame ${storedAs(firstFrame)} to ${whole(toPixels)} px in frame ${storedAs(lastFrame)}, ${Math.abs(slopePixelsPerFrame).toPrecision(3)} px a frame`;
}

/** Rounded, and no minus zero. */
function whole(pixels: number): number {
  return Math.round(pixels) || 0;
}

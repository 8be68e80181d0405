import { fitWanderingLine, type Information } from "@frontpace/fit";
import type { FollowedFront } from "../one-front/follow-front.js";
import { chordOf } from "../one-front/mean-from-end-to-end.js";

/** Where a position along the path would be seen square on, px to px, increasing. */
type Straight = (positionPixels: number) => number;

/** A followed front with its positions moved to where they would be seen square on, and the line through them: what runs
 *  evenly in a plane seen obliquely does not in the picture. What widens the uncertainty of the line beyond its own fit
 *  (strips that differ) widens the new one by the same factor.
 *  @param straight  increasing, px to px */
export function straightenedFront(front: FollowedFront, straight: Straight): FollowedFront {
  const { readings, line } = front;
  const growth = growthOf(straight);
  const asSeen = fitWanderingLine(
    readings.numbers,
    readings.positionPixels,
    readings.information,
    readings.weighting,
  );
  // The line may have been moved since, away from the readings.
  const middle = readings.numbers[readings.numbers.length >> 1];
  const offset = line.intercept - asSeen.intercept + (line.slope - asSeen.slope) * middle;
  const places = readings.positionPixels.map((position) => position + offset);
  const scales = places.map(growth);
  const information = rescaled(readings.information, scales);
  const weighting = rescaled(readings.weighting, scales);
  const square = places.map(straight);
  const fitted = fitWanderingLine(readings.numbers, square, information, weighting);
  const widened = line.slopeStandardUncertainty / asSeen.slopeStandardUncertainty;
  return {
    ...moved(front, straight),
    line: { ...fitted, slopeStandardUncertainty: fitted.slopeStandardUncertainty * widened },
    readings: { ...readings, positionPixels: square, information, weighting },
  };
}

/** The same of a front whose way was followed in parts: its line is the chord, of the positions so moved. */
export function straightenedChord(
  front: FollowedFront,
  straight: Straight,
  frameNumbers: readonly number[],
): FollowedFront {
  const even = moved(front, straight);
  return { ...even, line: chordOf(even, frameNumbers) };
}

/** Positions and their uncertainties where they would be seen square on. */
function moved(front: FollowedFront, straight: Straight): FollowedFront {
  const { positionPixels, standardUncertaintyPixels } = front;
  const growth = growthOf(straight);
  return {
    ...front,
    positionPixels: positionPixels.map(straight),
    standardUncertaintyPixels: standardUncertaintyPixels.map((u, k) => u * growth(positionPixels[k])),
  };
}

function growthOf(straight: Straight): (at: number) => number {
  return (at) => straight(at + 0.5) - straight(at - 0.5);
}

/** The information of positions of which each was stretched by a factor. */
function rescaled({ banded, lost }: Information, factors: readonly number[]): Information {
  const stride = banded.bandwidth + 1;
  return {
    banded: {
      ...banded,
      data: banded.data.map((value, at) => {
        const i = Math.floor(at / stride);
        const j = i - (at % stride);
        return j < 0 ? 0 : value / (factors[i] * factors[j]);
      }),
    },
    lost: lost?.map((value, i) => value / factors[i]) ?? null,
  };
}

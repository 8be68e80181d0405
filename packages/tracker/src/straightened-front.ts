import { fitWanderingLine, type Information } from "@frontpace/fit";
import type { FollowedFront } from "./follow-front.js";

/** A followed front with its positions moved to where they would be seen square on, and the line through them: what runs
 *  evenly in a plane seen obliquely does not in the picture. What widens the uncertainty of the line beyond its own fit
 *  (strips that differ) widens the new one by the same factor.
 *  @param straight  increasing, px to px */
export function straightenedFront(front: FollowedFront, straight: (pixels: number) => number): FollowedFront {
  const { readings, line, positionPixels, standardUncertaintyPixels } = front;
  const growth = (at: number) => straight(at + 0.5) - straight(at - 0.5);
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
  const moved = places.map(straight);
  const fitted = fitWanderingLine(readings.numbers, moved, information, weighting);
  const widened = line.slopeStandardUncertainty / asSeen.slopeStandardUncertainty;
  return {
    ...front,
    positionPixels: positionPixels.map(straight),
    standardUncertaintyPixels: standardUncertaintyPixels.map((u, k) => u * growth(positionPixels[k])),
    line: { ...fitted, slopeStandardUncertainty: fitted.slopeStandardUncertainty * widened },
    readings: { ...readings, positionPixels: moved, information, weighting },
  };
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

import {
  bandedDiagonalOf,
  factorInformation,
  type Information,
  informationTimes,
  median,
} from "@frontpace/fit";

/** What the position of a frame is where levels are found together with it. Arrays have one entry for each frame, px. */
export interface WithOpenLevels {
  /** From where it was modelled. */
  readonly shiftPixels: readonly number[];
  readonly standardUncertaintyPixels: readonly number[];
}

/** A frame whose position is less sure by this factor where the levels are not known, over what is usual in the take, hangs on levels that few frames show. */
const OPEN = 1.4;
/** Frames in the middle by which the usual is told. */
const USUAL = 9;
/** Products in the factorisation, at most. */
const MOST_WORK = 1e8;

/** How far the front is in every frame from where it was modelled. In most frames that is what the frame alone says, levels and look being known. Where the take begins or ends while
 *  the front is under way, the places that it crosses were not seen before or after it: their levels are as unsure as the positions in those
 *  frames, which are found together with them.
 *  @param score  derivative of the log likelihood by the positions, 1/px
 *  @param information  of the positions, levels eliminated, 1/px²
 *  @param lasting  factor of the variances for noise that lasts */
export function withOpenLevels(
  score: Float64Array,
  information: Information,
  lasting: number,
): WithOpenLevels {
  const diagonal = bandedDiagonalOf(information.banded);
  const { open, shift } = openFrames(score, information, diagonal);
  const isOpen = (k: number) => open[k] > 0;
  // What the frames with open levels move by, the others see through the levels that they share.
  const seen = informationTimes(
    information,
    shift.map((value, k) => (isOpen(k) ? value : 0)),
  );
  return {
    shiftPixels: Array.from(score, (value, k) => (isOpen(k) ? shift[k] : (value - seen[k]) / diagonal[k])),
    standardUncertaintyPixels: Array.from(diagonal, (value, k) =>
      Math.sqrt(lasting * (isOpen(k) ? open[k] : 1 / value)),
    ),
  };
}

/** Variances of the frames near either end that hang on open levels, else 0; and how far each frame is from where it was modelled, all found together. */
function openFrames(score: Float64Array, information: Information, diagonal: Float64Array) {
  const count = score.length;
  const none = { open: new Float64Array(count), shift: new Float64Array(count) };
  const { bandwidth } = information.banded;
  if (count * (bandwidth + 1) ** 2 > MOST_WORK) return none;
  const factor = factorInformation(information);
  if (!factor) return none;
  const varianceAt = (k: number) => {
    const unit = new Float64Array(count);
    unit[k] = 1;
    return factor.solve(unit)[k];
  };
  const places = Array.from({ length: count }, (_, k) => k);
  const near = places.filter((k) => Math.min(k, count - 1 - k) <= bandwidth);
  const step = Math.max(1, Math.ceil(count / USUAL));
  const usual = median(places.filter((k) => k % step === 0).map((k) => varianceAt(k) * diagonal[k]));
  const { open } = none;
  for (const k of near) {
    const variance = varianceAt(k);
    if (variance * diagonal[k] > OPEN ** 2 * usual) open[k] = variance;
  }
  return { open, shift: factor.solve(score) };
}

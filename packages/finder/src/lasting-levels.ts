import type { Levels } from "./find-lasting.js";
import type { FrameReader } from "./frame-reader.js";
import { inLightOf } from "./light.js";

/** A value is followed from one level to the other where they differ by so many noise levels. */
const CLEARLY = 8;

/** Values of the descriptors that change for good, in the light of a reference. */
export interface Lasting {
  readonly changes: readonly Levels[];
  readonly reference: Float64Array;
}

/** The values that differ clearly between descriptors before and after.
 *  @param noise  standard deviation of every value of one sample */
export function lastingBetween(
  before: Float64Array,
  after: Float64Array,
  noise: Float64Array,
  { grid }: Pick<FrameReader, "grid">,
): Lasting {
  const steady = inLightOf(after, before, grid);
  const changes = Array.from(before, (from, value) => ({ value, from, to: steady[value] })).filter(
    ({ value, from, to }) => Math.abs(to - from) > CLEARLY * noise[value],
  );
  return { changes, reference: before };
}

/** Which of the values are past the middle between their levels, frame by frame.
 *  @param places  those outside the take are left out */
export async function pastMiddle(
  reader: FrameReader,
  { changes, reference }: Lasting,
  places: readonly number[],
): Promise<boolean[][]> {
  const { grid, count } = reader;
  const list: boolean[][] = [];
  const inTake = places.filter((place) => place >= 0 && place < count);
  for await (const descriptor of reader.descriptors(inTake)) {
    const steady = inLightOf(descriptor, reference, grid);
    list.push(changes.map(({ value, from, to }) => (steady[value] - from) / (to - from) > 0.5));
  }
  return list;
}

/** How many of them are. */
export async function changedIn(...asked: Parameters<typeof pastMiddle>): Promise<number[]> {
  return (await pastMiddle(...asked)).map((are) => are.filter((isPast) => isPast).length);
}

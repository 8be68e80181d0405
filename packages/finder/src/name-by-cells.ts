import { THRESHOLD } from "./find-changes.js";
import type { FrameReader } from "./frame-reader.js";
import { changedIn, type Lasting } from "./lasting-levels.js";
import { inLightOf } from "./light.js";
import { changeStrength } from "./noise.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Stretch } from "./scan-places.js";

/** Frames averaged where descriptors are compared. */
const AVERAGED = 8;
/** Frames looked at before and behind to see how many values pass the middle without the event, spread over twice its length. */
const BESIDE = 16;
const READ_IN_ORDER = 48;

/** Names the ends of an event that stays amid what moves all the time, by how many of the values that it changes for good are past
 *  the middle between their levels: the first frame from which on there are more than ever before it, the last up to
 *  which there are fewer than ever behind.
 *  @returns null where no frame tells them apart, or what is left is weaker than the weakest event */
export async function nameByCells(
  reader: FrameReader,
  {
    before,
    after,
    noise,
    lasting,
  }: Pick<Stretch, "before" | "after" | "noise"> & { readonly lasting: Lasting },
): Promise<PlacedEvent | null> {
  const { grid, count } = reader;
  const { changes } = lasting;
  const step = Math.max(1, Math.round((2 * (after - before)) / BESIDE));
  const beside = Array.from({ length: BESIDE }, (_, i) => i * step);
  const changedBefore = Math.max(
    ...(await changedIn(reader, lasting, beside.map((i) => before - i).reverse())),
  );
  const leftAfter =
    changes.length -
    Math.min(
      ...(await changedIn(
        reader,
        lasting,
        beside.map((i) => after + i),
      )),
    );
  if (changedBefore + leftAfter >= changes.length) return null;

  const hasBegun = (changed: number) => changed > changedBefore;
  const isIncomplete = (changed: number) => changed < changes.length - leftAfter;
  const first = await border(hasBegun, 1);
  const last = await border(isIncomplete, -1);
  const around = {
    before: await reader.meanDescriptor(Math.max(0, first - AVERAGED), Math.max(1, first)),
    after: await reader.meanDescriptor(Math.min(count - 1, last + 1), Math.min(count, last + 1 + AVERAGED)),
  };
  const steady = inLightOf(around.after, around.before, grid);
  const strength = changeStrength(around.before, steady, noise, grid);
  if (strength < THRESHOLD) return null;
  return {
    first: Math.min(first, last),
    last: Math.min(count - 1, Math.max(first, last) + 1),
    kind: "stays",
    strength,
    certainty: "bisected",
    ...around,
    noise,
  };

  /** Forwards (1) the first frame from which on all fulfil a condition, backwards (-1) the last up to which all do. */
  async function border(fulfils: (changed: number) => boolean, direction: 1 | -1): Promise<number> {
    let [outside, inside] = direction === 1 ? [before, after] : [after, before];
    while (Math.abs(inside - outside) > READ_IN_ORDER) {
      const middle = Math.round((outside + inside) / 2);
      const [changed] = await changedIn(reader, lasting, [middle]);
      if (fulfils(changed)) inside = middle;
      else outside = middle;
    }
    const [low, high] = [Math.min(outside, inside), Math.max(outside, inside)];
    const within = await changedIn(
      reader,
      lasting,
      Array.from({ length: high - low + 1 }, (_, i) => low + i),
    );
    if (direction === -1) within.reverse();
    const [from, step] = direction === 1 ? [low, 1] : [high, -1];
    return from + step * (within.findLastIndex((changed) => !fulfils(changed)) + 1);
  }
}

import { THRESHOLD } from "./find-changes.js";
import type { FrameReader } from "./frame-reader.js";
import { inLightOf } from "./light.js";
import { changeStrength } from "./noise.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Stretch } from "./scan-places.js";

/** Frames averaged where descriptors are compared, and looked at within the event. */
const FEW = 8;

/** What passes amid what moves all the time must differ so many times as much as the frames before it, or behind it, do. */
const OUTSTANDING = 1.5;

/** Names the ends of what passes amid what moves all the time by the samples that show it: single frames would show the
 *  other motion too.
 *  @returns null where the frames on either side of it differ as much, or it is weaker than the weakest event */
export async function nameBySamples(
  reader: FrameReader,
  { before, after, noise }: Stretch,
): Promise<PlacedEvent | null> {
  const { grid, count } = reader;
  const around = {
    before: await reader.meanDescriptor(Math.max(0, before - FEW + 1), before + 1),
    after: await reader.meanDescriptor(after, Math.min(count, after + FEW)),
  };
  const span = after - before;
  const strength = await greatest((i) => before + ((i + 1) * span) / (FEW + 1));
  const earlier = await greatest((i) => before - FEW - (2 * i * span) / FEW);
  const later = await greatest((i) => after + FEW + (2 * i * span) / FEW);
  if (strength <= Math.max(THRESHOLD, OUTSTANDING * Math.min(earlier, later))) return null;
  const first = Math.min(before + 1, count - 1);
  return {
    first,
    last: Math.max(first, after - 1),
    kind: "passes",
    strength,
    certainty: "bracketed",
    ...around,
    noise,
  };

  /** The greatest change of a few frames against those right before. */
  async function greatest(placeOf: (i: number) => number): Promise<number> {
    const places = new Set(Array.from({ length: FEW }, (_, i) => Math.round(placeOf(i))));
    const inTake = [...places].filter((place) => place >= 0 && place < count).sort((a, b) => a - b);
    let strength = 0;
    for await (const descriptor of reader.descriptors(inTake)) {
      const steady = inLightOf(descriptor, around.before, grid);
      strength = Math.max(strength, changeStrength(around.before, steady, noise, grid));
    }
    return strength;
  }
}

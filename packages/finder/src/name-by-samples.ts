import type { FrameReader } from "./frame-reader.js";
import { inLightOf } from "./light.js";
import { changeStrength } from "./noise.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Stretch } from "./scan-places.js";

/** Frames averaged where descriptors are compared, and looked at within the event. */
const FEW = 8;

/** Names the ends of what passes amid what moves all the time by the samples that show it: single frames would show the
 *  other motion too. */
export async function nameBySamples(
  reader: FrameReader,
  { before, after, noise }: Stretch,
): Promise<PlacedEvent> {
  const { grid, count } = reader;
  const around = {
    before: await reader.meanDescriptor(Math.max(0, before - FEW + 1), before + 1),
    after: await reader.meanDescriptor(after, Math.min(count, after + FEW)),
  };
  const within = Array.from({ length: FEW }, (_, i) =>
    Math.round(before + ((i + 1) * (after - before)) / (FEW + 1)),
  );
  let strength = 0;
  for await (const descriptor of reader.descriptors([...new Set(within)])) {
    const steady = inLightOf(descriptor, around.before, grid);
    strength = Math.max(strength, changeStrength(around.before, steady, noise, grid));
  }
  const first = Math.min(before + 1, count - 1);
  return { first, last: Math.max(first, after - 1), kind: "passes", strength, ...around, noise };
}

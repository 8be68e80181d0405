import type { TakeSearch } from "@frontpace/take";

/** The picture of a search: how much happens along the take, and where the events lie. */
export async function drawSearch({ take, events, activity }: TakeSearch): Promise<string> {
  const { drawActivity } = await import("@frontpace/report");
  const { name, firstFrame, lastFrame, rateHz } = take;
  const count = events.events.length;
  const found = count === 0 ? "nothing found" : count === 1 ? "one event" : `${count} events`;
  return drawActivity({
    activity,
    events: events.events,
    lightChanges: events.lightChanges ?? [],
    firstFrame,
    lastFrame,
    ...(rateHz !== null && { rateHz }),
    title: `${name}: ${found}`,
    subtitle: `${events.framesRead} of ${events.frames} frames read`,
  });
}

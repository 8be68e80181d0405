import type { TakeSearch, TakeWarning } from "../types.js";

const MOST_NAMED = 5;

/** Said where a search found more events than the one that is measured. */
export function otherEvents(search: TakeSearch | null): TakeWarning[] {
  const others = search?.events.events.slice(1) ?? [];
  if (others.length === 0) return [];
  const named = others
    .slice(0, MOST_NAMED)
    .map(({ firstFrame, lastFrame, kind }) => `${firstFrame} to ${lastFrame} (${kind})`);
  const rest = others.length - named.length;
  const list = `${named.join(", ")}${rest > 0 ? ` and ${rest} more` : ""}`;
  return [
    {
      code: "other-events",
      message: `the strongest of ${others.length + 1} events was measured; something happens in frames ${list} too: to measure there give them (--frames, firstFrame and lastFrame)`,
    },
  ];
}

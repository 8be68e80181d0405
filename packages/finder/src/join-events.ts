import type { CellGrid } from "./cell-grid.js";
import { inLightOf } from "./light.js";
import { cellStrength, changeStrength } from "./noise.js";
import type { PlacedEvent } from "./placed-event.js";

/** From the least certain. */
const STAGES = ["bracketed", "bisected", "visible", "refined"] as const;

/** What is left of a change that is taken back, at most, as a part of the change. */
const TAKEN_BACK = 0.25;

/** Events closer together than the shortest one wanted are one; it stays where either does. A change that the next one
 *  takes back, however much later, is one event that passes.
 *  @returns in order of time */
export function joinEvents(events: readonly PlacedEvent[], closer: number, grid: CellGrid): PlacedEvent[] {
  const joined: PlacedEvent[] = [];
  for (const event of [...events].sort((a, b) => a.first - b.first)) {
    const last = joined[joined.length - 1];
    if (last && isTakenBack(last, event, grid))
      // The last frame that still shows it is the one before the picture is complete again.
      joined[joined.length - 1] = joinedOf(last, event, "passes", event.last - 1);
    else if (last && event.first - last.last <= closer) {
      const kind = last.kind === "stays" || event.kind === "stays" ? "stays" : "passes";
      joined[joined.length - 1] = joinedOf(last, event, kind, event.last);
    } else joined.push(event);
  }
  return joined;
}

function isTakenBack(one: PlacedEvent, next: PlacedEvent, grid: CellGrid): boolean {
  if (one.kind !== "stays" || next.kind !== "stays") return false;
  const { before, noise } = one;
  const inCells = cellStrength(before, inLightOf(one.after, before, grid), noise, grid) > 0;
  const strength = inCells ? cellStrength : changeStrength;
  const left = strength(before, inLightOf(next.after, before, grid), noise, grid);
  return left < TAKEN_BACK * Math.min(one.strength, next.strength);
}

function joinedOf(a: PlacedEvent, b: PlacedEvent, kind: PlacedEvent["kind"], last: number): PlacedEvent {
  return {
    first: a.first,
    last: Math.max(a.last, last),
    kind,
    strength: Math.max(a.strength, b.strength),
    certainty: STAGES[Math.min(STAGES.indexOf(a.certainty), STAGES.indexOf(b.certainty))],
    before: a.before,
    after: b.after,
    noise: a.strength > b.strength ? a.noise : b.noise,
  };
}

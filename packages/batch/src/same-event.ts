import type { MeasuredOutcome } from "./types.js";

/** Takes that show the event of another one: the same frames, or frames that were copied out of one take, about one event in it. A second
 *  measurement of the same frames is no repeat of the event.
 *  @param outcomes  takes that may be repeats of one event, in order of name
 *  @returns the take that counts in place of each; what nothing was copied into goes before what was copied */
export function sameEvents(outcomes: readonly MeasuredOutcome[]): ReadonlyMap<string, string> {
  const counted: MeasuredOutcome[] = [];
  const others = new Map<string, string>();
  const isCopy = ({ footage }: MeasuredOutcome) => footage.isCopy;
  for (const outcome of [...outcomes.filter((one) => !isCopy(one)), ...outcomes.filter(isCopy)]) {
    const first = counted.find((one) => isSameEvent(one, outcome));
    if (first) others.set(outcome.name, first.name);
    else counted.push(outcome);
  }
  return others;
}

function isSameEvent(a: MeasuredOutcome, b: MeasuredOutcome): boolean {
  if (a.result.framesHash === b.result.framesHash) return true;
  const [one, other] = [a.result.frames, b.result.frames];
  if (a.footage.origin !== b.footage.origin || one === null || other === null) return false;
  return one.first <= other.last && other.first <= one.last;
}

/** Part of the memory to be kept from before the trigger. The trigger comes while the event runs or up to the reaction time
 *  after its end; what memory is left over is split evenly before and after.
 *  @param recordSeconds, eventSeconds, reactionSeconds  s
 *  @returns 0..1, or null where memory does not hold reaction and event */
export function triggerShare(
  recordSeconds: number,
  eventSeconds: number,
  reactionSeconds: number,
): number | null {
  const before = reactionSeconds + eventSeconds;
  if (before > recordSeconds) return null;
  const left = Math.max(0, recordSeconds - before - eventSeconds);
  return Math.min(1, (before + left / 2) / recordSeconds);
}

/** Rates at which recordings are shown, frames per second. */
export const PLAYBACK_RATES = [24, 25, 30, 50, 60] as const;

/** Time that frames last on the screen, s.
 *  @throws RangeError for a rate that is not > 0 */
export function playbackSeconds(frames: number, playbackHz: number): number {
  if (!(playbackHz > 0)) throw new RangeError(`playbackHz must be > 0, got ${playbackHz}`);
  return frames / playbackHz;
}

import type { MainsFlicker } from "./plan-types.js";

/** Light of lamps on the mains in a mode. They flicker at twice the mains frequency f: brightness 1 + cos(2π 2f t) about its mean, for a
 *  lamp that goes dark twice a period; a lamp of depth d shows that part d of the variation. Averaged over the exposure it loses
 *  sinc(π 2f t_e); over an event shorter than half a flicker it changes by 2 sin(π 2f T) at the worst moment.
 *  @param mainsHz  frequency of the mains, 50 or 60
 *  @throws RangeError for a value that is not > 0 */
export function mainsFlicker(
  mainsHz: number,
  rateHz: number,
  exposureSeconds: number,
  eventSeconds: number,
): MainsFlicker {
  for (const [name, value] of Object.entries({ mainsHz, rateHz, exposureSeconds, eventSeconds }))
    if (!(value > 0)) throw new RangeError(`${name} must be > 0, got ${value}`);
  const lampHz = 2 * mainsHz;
  const phase = Math.PI * lampHz * exposureSeconds;
  const seen = Math.abs(Math.sin(phase) / phase);
  const swing = lampHz * eventSeconds >= 0.5 ? 2 : 2 * Math.sin(Math.PI * lampHz * eventSeconds);
  return { lampHz, framesPerCycle: rateHz / lampHz, largestVariation: seen * swing };
}

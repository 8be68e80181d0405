/** Places evenly spread over a take, closer towards its ends, so that what happens near an end has samples on either side.
 *  @param frames  of the take
 *  @param apart  distance in frames, >= 1
 *  @param scatter  part of the distance by which places are moved at random, always the same way: flicker then does not
 *    fall into step with them */
export function samplePlaces(frames: number, apart: number, scatter: number): number[] {
  const places = new Set<number>();
  const samples = Math.ceil(frames / apart);
  for (let i = 0; i < samples; i++) {
    const moved = scatter * (fraction(i * 0.6180339887498949) - 0.5);
    places.add(Math.min(frames - 1, Math.max(0, Math.round((i + moved) * apart))));
  }
  // 0, 2, 4, ... 8, then half as far again and as far again.
  for (
    let at = 0;
    at < apart && at < frames;
    at = at < 8 ? at + 2 : at + 2 ** Math.floor(Math.log2(at) - 1)
  ) {
    places.add(at);
    places.add(frames - 1 - at);
  }
  return [...places].sort((a, b) => a - b);
}

function fraction(value: number): number {
  return value - Math.floor(value);
}

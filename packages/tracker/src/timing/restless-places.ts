/** A place changes clearly where it does by this part of the largest change of any. */
const CLEARLY = 1 / 4;
/** What runs along the path has passed a place within this part of the time. */
const LASTING = 2 / 3;
/** Where this part of the places are like that, none of them is told from the others. */
const MOST = 1 / 2;

/** Places of the path that change clearly early and late in the take: a counter or clock that is written into the picture does, in a rhythm of its
 *  own; a front changes a place as it passes.
 *  @returns shape (positions,), 1 at these places; null where so many are like that that it is the noise, or the whole picture */
export function restlessPlaces(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
): Uint8Array | null {
  const changeAt = (frame: number, p: number) =>
    Math.abs(data[frame * positions + p] - data[(frame - 1) * positions + p]);
  let largest = 0;
  for (let i = 1; i < frames; i++)
    for (let p = 0; p < positions; p++) largest = Math.max(largest, changeAt(i, p));
  const restless = new Uint8Array(positions);
  let count = 0;
  for (let p = 0; p < positions; p++) {
    let first = 1;
    let last = frames - 1;
    while (first < frames && changeAt(first, p) <= CLEARLY * largest) first++;
    while (last > first && changeAt(last, p) <= CLEARLY * largest) last--;
    if (last - first <= LASTING * frames) continue;
    restless[p] = 1;
    count++;
  }
  return count < MOST * positions ? restless : null;
}

type Point = readonly [x: number, y: number];

/** From where to where a line lies in a picture, in units of its direction.
 *  @returns where it does not, an end before the start */
export function spanWithin(
  { rows, columns }: { readonly rows: number; readonly columns: number },
  [ox, oy]: Point,
  [dx, dy]: Point,
): readonly [from: number, to: number] {
  let [from, to] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const [o, d, most] of [
    [ox, dx, columns - 1],
    [oy, dy, rows - 1],
  ]) {
    if (d === 0) {
      if (o < 0 || o > most) return [0, -1];
      continue;
    }
    const ends = [-o / d, (most - o) / d].sort((a, b) => a - b);
    from = Math.max(from, ends[0]);
    to = Math.min(to, ends[1]);
  }
  return [from, to];
}

/** Steps in which the ends of the stretch are tried. */
const STEPS = 32;

/** Of lines read side by side, the stretch that tells most of a speed: it lies in the picture in so many of them that their number times the cube of its length is
 *  greatest, for a slope's variance falls with both.
 *  @param spans  from where to where each line lies in the picture
 *  @param within  between which it is looked for
 *  @param fewest  lines, of so many px at least
 *  @returns null where there is none */
export function longestTogether(
  spans: readonly (readonly [from: number, to: number])[],
  [start, end]: readonly [number, number],
  fewest: { readonly lines: number; readonly pixels: number },
): readonly [first: number, last: number] | null {
  let best: { score: number; stretch: readonly [number, number] } | null = null;
  for (let a = 0; a < STEPS; a++)
    for (let b = a + 1; b <= STEPS; b++) {
      const [first, last] = [a, b].map((k) => start + (k * (end - start)) / STEPS);
      const seen = spans.filter(([from, to]) => from <= first && to >= last).length;
      const score = seen * (last - first) ** 3;
      if (seen >= fewest.lines && last - first >= fewest.pixels && (!best || score > best.score))
        best = { score, stretch: [first, last] };
    }
  return best?.stretch ?? null;
}

type Point = readonly [x: number, y: number];

/** Lines along which a quantity has one value, by linear interpolation between the middles of neighbouring cells; where one of four neighbours has no value
 *  there is no line.
 *  @param values  row-major, shape [rows, columns], NaN where there is none
 *  @returns lines as points in cells, whole numbers are their middles: x the column, y the row; closed ones end where they begin */
export function isolines(
  values: Float64Array,
  [rows, columns]: readonly [number, number],
  level: number,
): Point[][] {
  const links = new Map<number, number[]>();
  const link = (one: number, other: number) => {
    for (const [from, to] of [
      [one, other],
      [other, one],
    ]) {
      const there = links.get(from);
      if (there) there.push(to);
      else links.set(from, [to]);
    }
  };
  // Edges between neighbours have numbers: even ones run along rows, odd ones down columns.
  for (let r = 0; r + 1 < rows; r++)
    for (let c = 0; c + 1 < columns; c++) {
      const at = r * columns + c;
      const corners = [values[at], values[at + 1], values[at + columns + 1], values[at + columns]];
      if (corners.some(Number.isNaN)) continue;
      const edges = [2 * at, 2 * (at + 1) + 1, 2 * (at + columns), 2 * at + 1];
      const crossed = edges.filter((_, k) => corners[k] >= level !== corners[(k + 1) % 4] >= level);
      if (crossed.length === 2) link(crossed[0], crossed[1]);
      if (crossed.length === 4) {
        // A saddle: the mean says which corners belong together.
        const high = (corners[0] + corners[1] + corners[2] + corners[3]) / 4 >= level;
        const turned = corners[0] >= level === high;
        link(edges[0], edges[turned ? 1 : 3]);
        link(edges[2], edges[turned ? 3 : 1]);
      }
    }
  return chains(links).map((chain) => chain.map((edge) => pointOn(edge, values, columns, level)));
}

/** Edges in the order in which lines cross them. */
function chains(links: ReadonlyMap<number, readonly number[]>): number[][] {
  const seen = new Set<number>();
  const follow = (start: number) => {
    const chain = [start];
    seen.add(start);
    for (;;) {
      const next = links.get(chain[chain.length - 1])!.find((edge) => !seen.has(edge));
      if (next === undefined) break;
      seen.add(next);
      chain.push(next);
    }
    return chain;
  };
  const found: number[][] = [];
  for (const [edge, ends] of links) if (ends.length === 1 && !seen.has(edge)) found.push(follow(edge));
  for (const edge of links.keys()) {
    if (seen.has(edge)) continue;
    const chain = follow(edge);
    found.push([...chain, chain[0]]);
  }
  return found;
}

function pointOn(edge: number, values: Float64Array, columns: number, level: number): Point {
  const at = edge >> 1;
  const isDown = (edge & 1) === 1;
  const [here, there] = [values[at], values[isDown ? at + columns : at + 1]];
  const share = (level - here) / (there - here);
  const [x, y] = [at % columns, Math.floor(at / columns)];
  return isDown ? [x, y + share] : [x + share, y];
}

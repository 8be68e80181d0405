import ndarray from "ndarray";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import type { FrameRegion, FrameSource, Point } from "../../src/index.js";

/** An invented take: a straight front that runs over an even picture. Nothing of it is shared with the tracker's
 *  own model; brightness is summed by brute force over the pixel and over the exposure. */
export interface InventedTake {
  readonly numbers: readonly number[];
  readonly rows: number;
  readonly columns: number;
  /** Distance of the front from the picture's origin along `heading` at a time counted in frame numbers, px. */
  readonly frontAt: (time: number) => number;
  /** Unit vector across the front. Default [1, 0]: along the rows. */
  readonly heading?: Point;
  /** Standard deviation of the Gaussian blur, px. Default 1. */
  readonly blurPixels?: number;
  /** Part of the frame interval during which light is collected, about the frame's number. Default 0: an instant. */
  readonly exposureFraction?: number;
  /** `step` leaves the new level behind, `pulse` is a Gaussian band of the blur's width, `pair` is one line of the change and one against
   *  it, each a blur from their middle. Default `step`. */
  readonly shape?: "step" | "pulse" | "pair";
  /** DN. Defaults 100 and 80. */
  readonly before?: number;
  readonly step?: number;
  /** Light in each frame. Default 1. */
  readonly light?: (number: number) => number;
  /** What a pixel returns of the light. Default 1. */
  readonly dirt?: (row: number, column: number) => number;
  /** DN, standard deviation in each pixel. Default 0. */
  readonly noise?: number;
  readonly seed?: number;
  /** 8 and 16 round to whole numbers, 32 does not. Default 32. */
  readonly bitDepth?: 8 | 16 | 32;
}

/** Frames given by a brightness for every pixel, held in memory.
 *  @param brightness  DN; called once for every pixel of every frame, row by row */
export function sourceOf(
  { numbers, rows, columns, bitDepth = 32 }: Pick<InventedTake, "numbers" | "rows" | "columns" | "bitDepth">,
  brightness: (row: number, column: number, number: number) => number,
): FrameSource {
  const full = 2 ** bitDepth - 1;
  const pictures = numbers.map((number) => {
    const size = rows * columns;
    const data =
      bitDepth === 8
        ? new Uint8Array(size)
        : bitDepth === 16
          ? new Uint16Array(size)
          : new Float32Array(size);
    for (let r = 0, at = 0; r < rows; r++)
      for (let c = 0; c < columns; c++, at++) {
        const value = brightness(r, c, number);
        data[at] = bitDepth === 32 ? value : Math.min(full, Math.max(0, Math.round(value)));
      }
    return ndarray(data, [rows, columns]);
  });
  const whole: FrameRegion = { row: 0, column: 0, rows, columns };
  return {
    numbers,
    rows,
    columns,
    bitDepth,
    async *frames({ start = 0, end = numbers.length } = {}, region = whole, { signal } = {}) {
      for (let index = start; index < end; index++) {
        signal?.throwIfAborted();
        const frame = pictures[index]
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: numbers[index], frame };
      }
    },
  };
}

export function render(take: InventedTake): FrameSource {
  const { before = 100, step = 80, noise = 0, seed = 1, light = () => 1, dirt = () => 1 } = take;
  const share = changedShare(take);
  const normal = seededNormal(seed);
  return sourceOf(take, (row, column, number) => {
    const level = (before + step * share(row, column, number)) * light(number) * dirt(row, column);
    return noise === 0 ? level : level + noise * normal();
  });
}

const bell = (z: number) => Math.exp(-0.5 * z * z);
/** Against the distance behind the front, in blurs. */
const EDGES = { step: normalDistribution, pulse: bell, pair: (z: number) => -z * bell(z) } as const;

/** Share of the change that a pixel has seen: the blurred step (or band) averaged over the square of the pixel and
 *  over the exposure, each by Gauss-Legendre sums over pieces no longer than the blur. */
function changedShare({
  frontAt,
  heading: [nx, ny] = [1, 0],
  blurPixels = 1,
  exposureFraction = 0,
  shape = "step",
}: InventedTake): (row: number, column: number, number: number) => number {
  const pixel = pieces(1 / Math.min(1, blurPixels));
  const acrossColumns = nx === 0 ? CENTRE : pixel;
  const acrossRows = ny === 0 ? CENTRE : pixel;
  const places = acrossColumns.flatMap((c) =>
    acrossRows.map((r) => ({ at: c.at * nx + r.at * ny, weight: c.weight * r.weight })),
  );
  const edge = EDGES[shape];
  const reach = 7 * blurPixels + 1;
  const fronts = new Map<number, { at: number; weight: number }[]>();
  const frontsIn = (number: number) => {
    const known = fronts.get(number);
    if (known) return known;
    const smear =
      exposureFraction &&
      Math.abs(frontAt(number + exposureFraction / 2) - frontAt(number - exposureFraction / 2));
    const times = exposureFraction === 0 ? CENTRE : pieces(smear / blurPixels);
    const found = times.map(({ at, weight }) => ({ at: frontAt(number + exposureFraction * at), weight }));
    fronts.set(number, found);
    return found;
  };
  return (row, column, number) => {
    const along = column * nx + row * ny;
    let sum = 0;
    for (const front of frontsIn(number)) {
      const behind = front.at - along;
      if (Math.abs(behind) > reach) {
        if (behind > 0 && shape === "step") sum += front.weight;
      } else
        for (const { at, weight } of places) sum += front.weight * weight * edge((behind - at) / blurPixels);
    }
    return sum;
  };
}

interface Node {
  readonly at: number;
  readonly weight: number;
}

const CENTRE: readonly Node[] = [{ at: 0, weight: 1 }];

/** Nodes and weights on −½..½ that sum to 1: four-point Gauss-Legendre in each of so many equal pieces, rounded up.
 *  @see Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 25.4 */
function pieces(atLeast: number): Node[] {
  const count = Math.max(1, Math.ceil(atLeast));
  const half = [
    [0.339981043584856, 0.652145154862546],
    [0.861136311594053, 0.347854845137454],
  ];
  return Array.from({ length: count }, (_, k) => (k + 0.5) / count - 0.5).flatMap((middle) =>
    half.flatMap(([x, w]) =>
      [-x, x].map((place) => ({ at: middle + place / (2 * count), weight: w / (2 * count) })),
    ),
  );
}

const CELLS = 128;
const LIMIT = 8;

/** Normal density summed up once by Simpson's rule; between the grid's points a cubic through value and density. */
const CUMULATIVE = (() => {
  const table = new Float64Array(2 * LIMIT * CELLS + 1);
  for (let k = 1; k < table.length; k++) {
    const z = k / CELLS - LIMIT;
    const simpson = density(z - 1 / CELLS) + 4 * density(z - 0.5 / CELLS) + density(z);
    table[k] = table[k - 1] + simpson / (6 * CELLS);
  }
  return table;
})();

function density(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

function normalDistribution(z: number): number {
  if (z <= -LIMIT) return 0;
  if (z >= LIMIT) return 1;
  const place = (z + LIMIT) * CELLS;
  const k = Math.min(Math.floor(place), CUMULATIVE.length - 2);
  const u = place - k;
  const [low, high] = [CUMULATIVE[k], CUMULATIVE[k + 1]];
  const [d0, d1] = [density(k / CELLS - LIMIT) / CELLS, density((k + 1) / CELLS - LIMIT) / CELLS];
  return low + u * d0 + u * u * (3 * (high - low) - 2 * d0 - d1) + u * u * u * (2 * (low - high) + d0 + d1);
}

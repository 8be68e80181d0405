import { quantile } from "d3-array";

/** The speeds of the cells in which the front runs in about one direction. */
export interface RoseSector {
  /** Middle of the sector: 0 to the right, 90 down the picture (from x towards y), −180 to 180 degrees. */
  readonly angleDegrees: number;
  readonly cells: number;
  /** m/s */
  readonly medianSpeed: number;
  /** First and third quartile of the speeds, m/s: half of the cells lie between. */
  readonly quartiles: readonly [number, number];
}

/** Speed against direction, and what is not in it. */
export interface Rose {
  readonly sectors: readonly RoseSector[];
  /** Width of a sector, degrees. */
  readonly widthDegrees: number;
  /** Cells with a speed, and how many of these are in sectors of too few. */
  readonly cells: number;
  readonly leftOut: number;
}

const WIDTH = 15;
/** Sectors with a smaller share of the cells, or fewer of them, say little. */
const LEAST_SHARE = 0.01;
const FEWEST_CELLS = 8;
/** Length of the mean of all directions as unit vectors, 1 where they are all the same, from which one of them leads. */
const LEADS = 0.5;

/** Median speed, and its spread, in sectors of direction. One sector is centred on the mean direction where most of the front runs about that way, else on
 *  0 degrees: a straight front then is in one sector, whatever its angle.
 *  @param speed  m/s, shape (N,), NaN where nothing is said
 *  @param direction  degrees from x towards y (down), shape (N,)
 *  @see K. V. Mardia and P. E. Jupp, Directional Statistics, 2000, 2.2: mean direction and resultant length (citation from memory)
 *  @throws RangeError where there are not as many directions as speeds */
export function roseSectors(speed: Float64Array, direction: Float64Array): Rose {
  if (speed.length !== direction.length)
    throw new RangeError(
      `direction must hold as many values as speed, ${speed.length}, got ${direction.length}`,
    );
  const said = [...speed.keys()].filter((k) => !Number.isNaN(speed[k]) && !Number.isNaN(direction[k]));
  const middle = leadingDirection(said.map((k) => direction[k]));
  const count = 360 / WIDTH;
  const speeds = Array.from({ length: count }, (): number[] => []);
  for (const k of said) {
    const sector = Math.round((direction[k] - middle) / WIDTH);
    speeds[((sector % count) + count) % count].push(speed[k]);
  }
  const fewest = Math.max(FEWEST_CELLS, LEAST_SHARE * said.length);
  const sectors = speeds.flatMap((some, k): RoseSector[] => {
    if (some.length < fewest) return [];
    const sorted = Float64Array.from(some).sort();
    return [
      {
        angleDegrees: wrapped(middle + k * WIDTH),
        cells: some.length,
        medianSpeed: quantile(sorted, 0.5)!,
        quartiles: [quantile(sorted, 0.25)!, quantile(sorted, 0.75)!],
      },
    ];
  });
  const within = sectors.reduce((sum, { cells }) => sum + cells, 0);
  return { sectors, widthDegrees: WIDTH, cells: said.length, leftOut: said.length - within };
}

function leadingDirection(degrees: readonly number[]): number {
  const mean = (of: (radians: number) => number) =>
    degrees.reduce((sum, angle) => sum + of((angle * Math.PI) / 180), 0) / Math.max(1, degrees.length);
  const [x, y] = [mean(Math.cos), mean(Math.sin)];
  return Math.hypot(x, y) > LEADS ? (Math.atan2(y, x) * 180) / Math.PI : 0;
}

function wrapped(degrees: number): number {
  return degrees - 360 * Math.ceil((degrees - 180) / 360);
}

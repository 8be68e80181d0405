import type { TakeFrames } from "@frontpace/take";
import ndarray from "ndarray";
import { randomFrom } from "../random.js";
import { addSpecks } from "../specks.js";
import type { DrawnTake } from "./draw-take.js";
import { edgeTable } from "./edge-table.js";

/** Static dirt: what each pixel returns of the light, row-major, shape [across, along]. */
export function dirtOf({ seed, across, along }: DrawnTake): Float64Array {
  const random = randomFrom(seed ^ 0x5bd1e995);
  const dirt = new Float64Array(across * along).fill(1);
  const count = Math.round((across * along) / 80);
  addSpecks(dirt, [across, along], random, { count, depths: [-0.1, 0.35], radii: [0.7, 3] });
  return dirt;
}

/** The take as a sequence of frames in memory; each frame is rendered when it is read. */
export function renderTake(take: DrawnTake): TakeFrames {
  const { across, along, direction, bits } = take;
  const edge = edgeTable(take.blurPixels, take.pixelsPerFrame * take.exposureFraction);
  const dirt = dirtOf(take);
  const fullScale = 2 ** bits - 1;
  const horizontal = direction === "right" || direction === "left";
  const rows = horizontal ? across : along;
  const columns = horizontal ? along : across;
  const render = (number: number) => {
    const random = randomFrom(take.seed * 7919 + number);
    const data = bits === 8 ? new Uint8Array(rows * columns) : new Uint16Array(rows * columns);
    for (let p = 0; p < along; p++) {
      const level = take.before + take.polarity * take.step * edge.value(take.front[number] - p);
      const place = direction === "right" || direction === "down" ? p : along - 1 - p;
      for (let r = 0; r < across; r++) {
        const value = level * dirt[r * along + p] * take.light[number] + take.noise * random.normal();
        const at = horizontal ? r * columns + place : place * columns + r;
        data[at] = Math.max(0, Math.min(fullScale, Math.round(value)));
      }
    }
    return ndarray(data, [rows, columns]);
  };
  return {
    name: `invented-${take.seed}`,
    numbers: take.numbers,
    rows,
    columns,
    bitDepth: bits === 8 ? 8 : 16,
    async *frames(range = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = range.start ?? 0; index < (range.end ?? take.numbers.length); index++) {
        const frame = render(take.numbers[index])
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: take.numbers[index], frame };
      }
    },
  };
}

import type { FrameSource } from "@frontpace/tracker";
import ndarray from "ndarray";

type Point = readonly [x: number, y: number];

/** Rows and columns of other frames, and where in the picture each of their samples lies. */
export interface SamplePlaces {
  readonly rows: number;
  readonly columns: number;
  /** px in the picture; beyond its border the border is read. */
  placeAt(row: number, column: number): Point;
}

/** Frames whose samples are read between the pixels of others, linearly between the four about each place. */
export function sampledFrames(frames: FrameSource, samples: SamplePlaces): FrameSource {
  const { rows: height, columns: width } = samples;
  const { places, shares } = corners(frames, samples);
  return {
    numbers: frames.numbers,
    rows: height,
    columns: width,
    bitDepth: 32,
    ...(frames.timeFrames && { timeFrames: frames.timeFrames }),
    // A sample is interpolated between four that were rounded by themselves.
    roundingStep: frames.roundingStep ?? (() => (frames.bitDepth <= 16 ? 1 : 0)),
    async *frames(range, region = { row: 0, column: 0, rows: height, columns: width }, options) {
      for await (const { index, number, frame } of frames.frames(range, undefined, options)) {
        const { data, offset, stride } = frame;
        const read = new Float32Array(height * width);
        for (let k = 0; k < read.length; k++) {
          const at = offset + places[2 * k] * stride[1] + places[2 * k + 1] * stride[0];
          const [fx, fy] = [shares[2 * k], shares[2 * k + 1]];
          const upper = data[at] * (1 - fx) + data[at + stride[1]] * fx;
          const lower = data[at + stride[0]] * (1 - fx) + data[at + stride[0] + stride[1]] * fx;
          read[k] = upper * (1 - fy) + lower * fy;
        }
        const { row, column, rows, columns } = region;
        yield {
          index,
          number,
          frame: ndarray(read, [height, width])
            .hi(row + rows, column + columns)
            .lo(row, column),
        };
      }
    },
  };
}

/** Column and row of the pixel to the upper left of every sample, and the shares of the ones to the right and below. */
function corners(
  { rows, columns }: FrameSource,
  samples: SamplePlaces,
): { places: Int32Array; shares: Float64Array } {
  const places = new Int32Array(2 * samples.rows * samples.columns);
  const shares = new Float64Array(places.length);
  let k = 0;
  for (let row = 0; row < samples.rows; row++)
    for (let column = 0; column < samples.columns; column++) {
      const [x, y] = samples.placeAt(row, column);
      for (const [value, size] of [
        [x, columns],
        [y, rows],
      ]) {
        places[k] = Math.min(size - 2, Math.max(0, Math.floor(value)));
        shares[k] = Math.min(1, Math.max(0, value - places[k]));
        k++;
      }
    }
  return { places, shares };
}

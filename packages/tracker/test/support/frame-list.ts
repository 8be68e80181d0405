import ndarray from "ndarray";
import type { FrameSource } from "../../src/index.js";
import { readStreaks, type StripedStreak } from "../../src/streak/read-streak.js";

/** The pictures of a source, row by row. */
export async function picturesOf(source: FrameSource): Promise<Float32Array[]> {
  const pictures: Float32Array[] = [];
  for await (const { frame } of source.frames()) {
    const picture = new Float32Array(source.rows * source.columns);
    for (let r = 0, at = 0; r < source.rows; r++)
      for (let c = 0; c < source.columns; c++, at++) picture[at] = frame.get(r, c);
    pictures.push(picture);
  }
  return pictures;
}

/** A source like another with these pictures instead, numbered from 0. */
export function withPictures(source: FrameSource, pictures: readonly Float32Array[]): FrameSource {
  const { rows, columns } = source;
  return {
    ...source,
    numbers: pictures.map((_, i) => i),
    async *frames({ start = 0, end = pictures.length } = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = start; index < end; index++) {
        const whole = ndarray(pictures[index], [rows, columns]);
        const frame = whole
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: index, frame };
      }
    },
  };
}

/** The clip that repeats, or mixes, the frames that lie nearest: so many of the source to so many of the clip. */
export function converted(
  pictures: readonly Float32Array[],
  [source, clip]: readonly [number, number],
  how: "repeat" | "blend",
): Float32Array[] {
  const made: Float32Array[] = [];
  for (let k = 0; (k * source) / clip < pictures.length - 1; k++) {
    const whole = Math.floor((k * source) / clip);
    const part = how === "blend" ? ((k * source) % clip) / clip : 0;
    made.push(
      pictures[whole].map((value, at) => Math.round((1 - part) * value + part * pictures[whole + 1][at])),
    );
  }
  return made;
}

/** The streak along the rows, the whole picture wide. */
export async function streakOf(source: FrameSource): Promise<StripedStreak> {
  const row = (source.rows - 1) / 2;
  const path = [
    [0, row],
    [source.columns - 1, row],
  ] as const;
  const [streak] = await readStreaks(source, [{ path, width: source.rows }], 0, source.numbers.length);
  return streak;
}

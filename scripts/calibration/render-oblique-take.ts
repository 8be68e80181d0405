import ndarray from "ndarray";
import { randomFrom } from "../random.js";
import { type Camera, rayCaster } from "./render-target.js";

/** A front at constant speed in a plane that a camera sees obliquely. */
export interface ObliqueFront {
  readonly frames: number;
  /** Where in the plane the front is in frame 0, m, and how far it runs in a frame. */
  readonly start: number;
  readonly step: number;
  /** Width of its edge in the plane, standard deviation, m. */
  readonly blur: number;
  readonly noise: number;
  readonly seed: number;
}

/** Part of the camera's picture that the take shows, px. */
export interface Crop {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** An invented take in memory, as an open sequence: bright where x in the plane lies behind the front. */
export function renderObliqueTake(camera: Camera, front: ObliqueFront, crop: Crop) {
  const toPlane = rayCaster(camera);
  const { rows, columns } = crop;
  const places = Float64Array.from(
    { length: rows * columns },
    (_, at) => toPlane(crop.column + (at % columns), crop.row + Math.floor(at / columns))[0],
  );
  const random = randomFrom(front.seed);
  const pictures = Array.from({ length: front.frames }, (_, k) => {
    const at = front.start + front.step * k;
    // A logistic edge: any smooth one will do.
    const samples = Uint8Array.from(places, (x) => {
      const passed = 1 / (1 + Math.exp((-1.8 * (at - x)) / front.blur));
      return Math.max(0, Math.min(255, Math.round(60 + 80 * passed + front.noise * random.normal())));
    });
    return ndarray(samples, [rows, columns]);
  });
  const numbers = pictures.map((_, k) => k);
  return {
    name: "oblique",
    numbers,
    rows,
    columns,
    bitDepth: 8,
    async *frames(
      { start = 0, end = pictures.length }: { start?: number; end?: number } = {},
      region = { row: 0, column: 0, rows, columns },
    ) {
      for (let index = start; index < end; index++) {
        const frame = pictures[index]
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: numbers[index], frame };
      }
    },
    hash: async () => "00",
  };
}

import type { TakeFrames } from "@frontpace/take";
import ndarray from "ndarray";
import sharp from "sharp";
import { randomFrom } from "../../random.js";
import { addSpecks } from "../../specks.js";
import { edgeTable } from "../edge-table.js";
import { dirtOf } from "../render-take.js";
import { numbersOf } from "./draw-hard.js";
import { passage, type Scene } from "./scene.js";

/** Stored pictures, one for each kept number, along the front's way: row-major, shape [across, along], DN. */
export interface Pictures {
  readonly numbers: readonly number[];
  readonly across: number;
  readonly along: number;
  readonly data: readonly Uint16Array[];
}

/** Margin around the picture that a shift can bring into it, px. */
const MARGIN = 8;

export async function renderScene(scene: Scene): Promise<Pictures> {
  const { take, stored, mosaic, magnification } = scene;
  const fullScale = 2 ** take.bits - 1;
  const light = lightOf(scene);
  const taken = new Map<number, Float64Array>();
  const picture = (i: number) => {
    let samples = taken.get(i);
    if (!samples) {
      const random = randomFrom(take.seed * 7919 + i);
      samples = light(i).map((level, k) => {
        const gain = mosaic ? mosaic.gains[colour(k)] : 1;
        return digitised(level * gain + take.noise * random.normal());
      });
      if (mosaic?.averaged) samples = averaged(samples, take.across, take.along).map(digitised);
      taken.set(i, samples);
    }
    return samples;
  };
  const [across, along] = [take.across, take.along].map((size) => Math.floor(size * magnification));
  const numbers = numbersOf(scene);
  const data: Uint16Array[] = [];
  for (const number of numbers) {
    const { a, b, share } = stored[number];
    const first = picture(a);
    let samples = share > 0 ? blended(first, picture(b), share).map(digitised) : first;
    if (magnification !== 1) samples = enlarged(samples, take, magnification).map(digitised);
    const whole = Uint16Array.from(samples);
    data.push(scene.jpegQuality === null ? whole : await compressed(whole, across, along, scene.jpegQuality));
  }
  return { numbers, across, along, data };

  function digitised(value: number): number {
    return Math.max(0, Math.min(fullScale, Math.round(value)));
  }
  function colour(k: number): number {
    return 2 * (Math.floor(k / take.along) % 2) + ((k % take.along) % 2);
  }
}

/** The pictures as an open sequence, turned as the take says. */
export function framesOf(scene: Scene, { numbers, across, along, data }: Pictures): TakeFrames {
  const { direction, bits, seed } = scene.take;
  const horizontal = direction === "right" || direction === "left";
  const rows = horizontal ? across : along;
  const columns = horizontal ? along : across;
  const turned = data.map((samples) => {
    const frame = bits === 8 ? new Uint8Array(samples.length) : new Uint16Array(samples.length);
    for (let r = 0; r < across; r++)
      for (let p = 0; p < along; p++) {
        const place = direction === "right" || direction === "down" ? p : along - 1 - p;
        frame[horizontal ? r * columns + place : place * columns + r] = samples[r * along + p];
      }
    return ndarray(frame, [rows, columns]);
  });
  return {
    name: `invented-${seed}`,
    numbers,
    rows,
    columns,
    bitDepth: bits === 8 ? 8 : 16,
    async *frames(range = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = range.start ?? 0; index < (range.end ?? numbers.length); index++) {
        const frame = turned[index]
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: numbers[index], frame };
      }
    },
  };
}

/** Mean brightness of each frame that the camera took, DN, shape [across, along]. */
function lightOf(scene: Scene): (i: number) => Float64Array {
  const { take, shifts } = scene;
  const { across, along, front, before } = take;
  const margin = shifts.length > 0 ? MARGIN : 0;
  const [rows, length] = [across + 2 * margin, along + 2 * margin];
  const edge = edgeTable(take.blurPixels, take.pixelsPerFrame * take.exposureFraction);
  const passed = scene.still ? () => Number.POSITIVE_INFINITY : passage(take);
  const surface = surfaceOf(scene, margin);
  return (i) => {
    const field = new Float64Array(rows * length);
    const light = scene.light.reduce((product, factor) => product * factor(i), 1);
    for (let k = 0; k < length; k++) {
      const p = k - margin;
      const at = Math.min(front[i], scene.endsAt);
      const unbegun = Number.isFinite(scene.beginsAt) ? edge.value(scene.beginsAt - p) : 0;
      const changed = scene.still ? 0 : Math.max(0, edge.value(at - p) - unbegun) * scene.aged(i - passed(p));
      for (let j = 0; j < rows; j++) {
        const r = j - margin;
        let level = before;
        if (changed > 0 && scene.inRow(r)) level += changed * scene.change(i, r, p);
        for (const layer of scene.layers) level += layer(i, r, p);
        field[j * length + k] = level * surface[j * length + k] * light;
      }
    }
    if (margin === 0) return field;
    let [alongShift, acrossShift] = [0, 0];
    for (const shift of shifts) {
      const [x, y] = shift(i);
      alongShift += x;
      acrossShift += y;
    }
    return shifted(field, [rows, length], [acrossShift, alongShift], margin);
  };
}

/** Dirt, and a texture where the scene has one. */
function surfaceOf({ take, texture }: Scene, margin: number): Float64Array {
  if (margin === 0) return dirtOf(take);
  const { seed, across, along } = take;
  const random = randomFrom(seed ^ 0x5bd1e995);
  const [rows, length] = [across + 2 * margin, along + 2 * margin];
  const surface = new Float64Array(rows * length).fill(1);
  const count = Math.round((rows * length) / 80);
  addSpecks(surface, [rows, length], random, { count, depths: [-0.1, 0.35], radii: [0.8, 3] });
  // Grain two pixels and more wide, of the wanted contrast: one speck to every sixth pixel, of either sign.
  const grains = Math.round((rows * length) / 6);
  addSpecks(surface, [rows, length], random, { count: grains, depths: [-texture, texture], radii: [1, 2.5] });
  return surface;
}

/** A picture moved by less than its margin, by cubic interpolation (Catmull-Rom), without the margin. */
function shifted(
  field: Float64Array,
  [rows, length]: readonly [number, number],
  [acrossShift, alongShift]: readonly [number, number],
  margin: number,
): Float64Array {
  const [across, along] = [rows - 2 * margin, length - 2 * margin];
  const [down, right] = [cubic(acrossShift), cubic(alongShift)];
  const moved = new Float64Array(rows * along);
  for (let j = 0; j < rows; j++)
    for (let p = 0; p < along; p++) {
      let sum = 0;
      for (let k = 0; k < 4; k++) sum += right.weights[k] * field[j * length + p + margin + right.first + k];
      moved[j * along + p] = sum;
    }
  const result = new Float64Array(across * along);
  for (let r = 0; r < across; r++)
    for (let p = 0; p < along; p++) {
      let sum = 0;
      for (let k = 0; k < 4; k++) sum += down.weights[k] * moved[(r + margin + down.first + k) * along + p];
      result[r * along + p] = sum;
    }
  return result;
}

/** Weights of the four neighbours that give the value `shift` px back. */
function cubic(shift: number): { readonly first: number; readonly weights: readonly number[] } {
  const whole = Math.floor(-shift);
  const t = -shift - whole;
  const weights = [
    0.5 * (-t + 2 * t ** 2 - t ** 3),
    0.5 * (2 - 5 * t ** 2 + 3 * t ** 3),
    0.5 * (t + 4 * t ** 2 - 3 * t ** 3),
    0.5 * (-(t ** 2) + t ** 3),
  ];
  return { first: whole - 1, weights };
}

function averaged(samples: Float64Array, across: number, along: number): Float64Array {
  return samples.map((_, k) => {
    const r = Math.min(across - 2, Math.floor(k / along));
    const p = Math.min(along - 2, k % along);
    const at = r * along + p;
    return (samples[at] + samples[at + 1] + samples[at + along] + samples[at + along + 1]) / 4;
  });
}

function blended(one: Float64Array, other: Float64Array, share: number): Float64Array {
  return one.map((value, k) => (1 - share) * value + share * other[k]);
}

/** Bilinear enlargement about the centres of the corner pixels' outer edges. */
function enlarged(
  samples: Float64Array,
  { across, along }: { across: number; along: number },
  factor: number,
): Float64Array {
  const place = (k: number, size: number) => {
    const at = Math.min(size - 1, Math.max(0, (k + 0.5) / factor - 0.5));
    const whole = Math.min(size - 2, Math.floor(at));
    return [whole, at - whole] as const;
  };
  const [rows, length] = [Math.floor(across * factor), Math.floor(along * factor)];
  return Float64Array.from({ length: rows * length }, (_, k) => {
    const [r, down] = place(Math.floor(k / length), across);
    const [p, right] = place(k % length, along);
    const at = r * along + p;
    const upper = (1 - right) * samples[at] + right * samples[at + 1];
    const lower = (1 - right) * samples[at + along] + right * samples[at + along + 1];
    return (1 - down) * upper + down * lower;
  });
}

async function compressed(
  samples: Uint16Array,
  across: number,
  along: number,
  quality: number,
): Promise<Uint16Array> {
  const raw = { width: along, height: across, channels: 1 as const };
  const file = await sharp(Uint8Array.from(samples), { raw })
    .toColourspace("b-w")
    .jpeg({ quality })
    .toBuffer();
  const decoded = await sharp(file).toColourspace("b-w").raw().toBuffer();
  if (decoded.length !== samples.length)
    throw new Error(`JPEG gave ${decoded.length} samples, not one a pixel`);
  return Uint16Array.from(decoded);
}

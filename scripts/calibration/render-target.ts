import { randomFrom } from "../random.js";

/** A camera of known pose over a flat target, with a lens of known distortion. */
export interface Camera {
  readonly columns: number;
  readonly rows: number;
  readonly focalPixels: number;
  /** The axis in the picture, px. */
  readonly axisPixels: readonly [number, number];
  /** Radial distortion in units of the focal length. */
  readonly k1: number;
  readonly k2: number;
  /** Turns of the target about the camera's x, y, z axes, in this order, degrees. */
  readonly turnDegrees: readonly [number, number, number];
  /** Where the target's origin stands: m to the right, down and away. */
  readonly place: readonly [number, number, number];
}

export interface Target {
  readonly kind: "corners" | "dots";
  readonly along: number;
  readonly across: number;
  /** m */
  readonly pitch: number;
}

export interface Look {
  /** Standard deviation of the blur, px. */
  readonly blur: number;
  readonly dark: number;
  readonly bright: number;
  /** Light at the picture's far corner divided by that at its origin. */
  readonly fall: number;
  readonly noise: number;
  readonly seed: number;
}

/** Where a point of the target is seen, px. */
export function project(camera: Camera, x: number, y: number): [number, number] {
  const [r, t] = [rotation(camera.turnDegrees), camera.place];
  const [X, Y, Z] = [0, 1, 2].map((k) => r[k][0] * x + r[k][1] * y + t[k]);
  const [u, v] = [X / Z, Y / Z];
  const bend = 1 + camera.k1 * (u * u + v * v) + camera.k2 * (u * u + v * v) ** 2;
  return [
    camera.axisPixels[0] + camera.focalPixels * u * bend,
    camera.axisPixels[1] + camera.focalPixels * v * bend,
  ];
}

/** Renders the target as `expose` films what `viewTarget` sees. Invented pictures.
 *  @returns shape (rows · columns,) */
export function renderTarget(camera: Camera, target: Target, look: Look): Uint8Array {
  return expose(camera, viewTarget(camera, target, look.blur), look);
}

/** The target before light and noise: rays from each pixel to its plane, averaged over the pixel, and blurred.
 *  @returns from 0 (black) to 1 (white), shape (rows · columns,) */
export function viewTarget(camera: Camera, target: Target, blurPixels: number): Float64Array {
  const { columns, rows } = camera;
  const toTarget = rayCaster(camera);
  const inside = target.kind === "corners" ? checkerboard(target) : dots(target);
  const clear = new Float64Array(columns * rows);
  const shade = (x: number, y: number) => inside(...toTarget(x, y));
  // Neighbouring pixels share their corners.
  const cornersOf = (y: number) =>
    Float64Array.from({ length: columns + 1 }, (_, x) => shade(x - 0.5, y - 0.5));
  let above = cornersOf(0);
  for (let y = 0; y < rows; y++) {
    const below = cornersOf(y + 1);
    for (let x = 0; x < columns; x++) {
      const first = above[x];
      const isEven =
        above[x + 1] === first && below[x] === first && below[x + 1] === first && shade(x, y) === first;
      clear[y * columns + x] = isEven ? first : average(shade, x, y);
    }
    above = below;
  }
  return blur(clear, rows, columns, blurPixels);
}

/** Pixels of the fine picture to one of the camera's. */
const FINER = 8;

/** As `viewTarget`, but blurred before the pixels and not from pixel to pixel, and with pixels that see a square part of theirs.
 *  @param aperture  sides of that part, eighths of a pixel, even
 *  @returns shape (rows · columns,) */
export function viewSharply(
  camera: Camera,
  target: Target,
  blurPixels: number,
  aperture = FINER,
): Float64Array {
  const { columns, rows, axisPixels } = camera;
  const [axisX, axisY] = axisPixels.map((place) => (place + 0.5) * FINER - 0.5);
  const finer: Camera = {
    ...camera,
    columns: columns * FINER,
    rows: rows * FINER,
    focalPixels: camera.focalPixels * FINER,
    axisPixels: [axisX, axisY],
  };
  const fine = viewTarget(finer, target, blurPixels * FINER);
  const first = (FINER - aperture) / 2;
  return Float64Array.from({ length: columns * rows }, (_, at) => {
    const corner = Math.floor(at / columns) * FINER * finer.columns + (at % columns) * FINER;
    let sum = 0;
    for (let y = first; y < first + aperture; y++)
      for (let x = first; x < first + aperture; x++) sum += fine[corner + y * finer.columns + x];
    return sum / aperture ** 2;
  });
}

/** Uneven light, noise and rounding to 8 bits.
 *  @param view  of `viewTarget`
 *  @returns shape (rows · columns,) */
export function expose({ columns, rows }: Camera, view: Float64Array, look: Look): Uint8Array {
  const random = randomFrom(look.seed);
  return Uint8Array.from(view, (white, at) => {
    const far = ((at % columns) / columns + Math.floor(at / columns) / rows) / 2;
    const light = 1 + (look.fall - 1) * far;
    const level = (look.dark + (look.bright - look.dark) * white) * light + look.noise * random.normal();
    return Math.max(0, Math.min(255, Math.round(level)));
  });
}

const PARTS = 10;
/** Each row and column of parts is shifted by another share of a part, so that an edge along the pixels is placed to a
 *  hundredth, not a tenth of one. */
const GOLDEN = 0.6180339887498949;
const shifts = Array.from({ length: PARTS }, (_, k) => ((k + 0.5) * GOLDEN) % 1);

function average(shade: (x: number, y: number) => number, x: number, y: number): number {
  let sum = 0;
  for (let a = 0; a < PARTS; a++)
    for (let b = 0; b < PARTS; b++)
      sum += shade(x - 0.5 + (a + shifts[b]) / PARTS, y - 0.5 + (b + shifts[a]) / PARTS);
  return sum / PARTS ** 2;
}

/** Squares round the inner corners, on white paper one square wider. */
function checkerboard({ along, across, pitch }: Target) {
  return (x: number, y: number) => {
    const [i, j] = [Math.floor(x / pitch), Math.floor(y / pitch)];
    if (i < -1 || j < -1 || i >= along || j >= across) return 1;
    return (((i + j) % 2) + 2) % 2 === 0 ? 0 : 1;
  };
}

function dots({ along, across, pitch }: Target) {
  return (x: number, y: number) => {
    const [i, j] = [Math.round(x / pitch), Math.round(y / pitch)];
    if (i < 0 || j < 0 || i >= along || j >= across) return 1;
    return Math.hypot(x - i * pitch, y - j * pitch) < 0.25 * pitch ? 0 : 1;
  };
}

/** Pixel to point of the target's plane, m. The distortion is undone by halving intervals. */
export function rayCaster({ focalPixels, axisPixels, k1, k2, turnDegrees, place }: Camera) {
  const r = rotation(turnDegrees);
  const normal = [0, 1, 2].map((k) => r[k][2]);
  const height = normal[0] * place[0] + normal[1] * place[1] + normal[2] * place[2];
  return (x: number, y: number): [number, number] => {
    const [u, v] = [(x - axisPixels[0]) / focalPixels, (y - axisPixels[1]) / focalPixels];
    const seen = Math.hypot(u, v);
    let [low, high] = [0, 3 * seen];
    for (let step = 0; k1 !== 0 || k2 !== 0 ? step < 45 : false; step++) {
      const rho = (low + high) / 2;
      const square = rho * rho;
      if (rho * (1 + k1 * square + k2 * square * square) < seen) low = rho;
      else high = rho;
    }
    const grow = seen > 0 && (k1 !== 0 || k2 !== 0) ? (low + high) / 2 / seen : 1;
    const [rayX, rayY] = [u * grow, v * grow];
    const depth = height / (normal[0] * rayX + normal[1] * rayY + normal[2]);
    const [offX, offY, offZ] = [rayX * depth - place[0], rayY * depth - place[1], depth - place[2]];
    return [
      offX * r[0][0] + offY * r[1][0] + offZ * r[2][0],
      offX * r[0][1] + offY * r[1][1] + offZ * r[2][1],
    ];
  };
}

function rotation([a, b, c]: readonly [number, number, number]): number[][] {
  const [sa, ca, sb, cb, sc, cc] = [a, b, c].flatMap((degrees) => {
    const angle = (degrees * Math.PI) / 180;
    return [Math.sin(angle), Math.cos(angle)];
  });
  // Rz Ry Rx
  return [
    [cc * cb, cc * sb * sa - sc * ca, cc * sb * ca + sc * sa],
    [sc * cb, sc * sb * sa + cc * ca, sc * sb * ca - cc * sa],
    [-sb, cb * sa, cb * ca],
  ];
}

function blur(from: Float64Array, rows: number, columns: number, sigma: number): Float64Array {
  if (sigma === 0) return from;
  const reach = Math.ceil(4 * sigma);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma ** 2)),
  );
  const total = kernel.reduce((a, b) => a + b, 0);
  /** Along lines of `count` samples, `step` apart, that begin `apart` from one another. */
  const pass = (picture: Float64Array, lines: number, apart: number, count: number, step: number) => {
    const soft = new Float64Array(picture.length);
    for (let line = 0; line < lines; line++)
      for (let n = 0; n < count; n++) {
        let sum = 0;
        for (let k = 0; k < kernel.length; k++) {
          const at = Math.max(0, Math.min(count - 1, n + k - reach));
          sum += kernel[k] * picture[line * apart + at * step];
        }
        soft[line * apart + n * step] = sum / total;
      }
    return soft;
  };
  return pass(pass(from, rows, columns, columns, 1), columns, 1, rows, columns);
}

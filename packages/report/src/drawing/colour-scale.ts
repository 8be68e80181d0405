/** An 8-bit sRGB colour. */
export type Rgb = readonly [red: number, green: number, blue: number];

type Lab = readonly [lightness: number, a: number, b: number];

/** Dark blue, by teal, to light yellow: control points of a quadratic Bézier curve in CIELAB, chosen so that it lies within sRGB. */
const CURVE: readonly [Lab, Lab, Lab] = [
  [22, 18, -40],
  [57, -35, -10],
  [92, -8, 60],
];
const STEPS = 512;

/** Reference white D65. @see IEC 61966-2-1:1999 */
const WHITE = [0.95047, 1, 1.08883] as const;

const curve = Array.from({ length: STEPS + 1 }, (_, k) => onCurve(k / STEPS));
const travelled = curve.reduce<number[]>((sum, colour, k) => {
  sum.push(k === 0 ? 0 : sum[k - 1] + difference(colour, curve[k - 1]));
  return sum;
}, []);

/** A colour scale for one quantity, made by formula: a curve through CIELAB, followed at an even pace in its colour difference, so that equal steps
 *  look equal. Lightness rises all the way, from L* = 22 to 92, and blue turns to yellow: it reads alike without red or
 *  green, and in grey.
 *  @param share  0 to 1; beyond these the colours of the ends
 *  @see CIELAB and its colour difference of 1976: ISO/CIE 11664-4 (constants from memory) */
export function scaleColour(share: number): Rgb {
  const wanted = Math.min(1, Math.max(0, share)) * travelled[STEPS];
  const next = Math.max(
    1,
    travelled.findIndex((at) => at >= wanted),
  );
  const within = (wanted - travelled[next - 1]) / (travelled[next] - travelled[next - 1]);
  return toRgb(onCurve((next - 1 + within) / STEPS));
}

function onCurve(t: number): Lab {
  const mix = (k: 0 | 1 | 2) =>
    (1 - t) ** 2 * CURVE[0][k] + 2 * t * (1 - t) * CURVE[1][k] + t ** 2 * CURVE[2][k];
  return [mix(0), mix(1), mix(2)];
}

function difference(one: Lab, other: Lab): number {
  return Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

function toRgb([lightness, a, b]: Lab): Rgb {
  const fy = (lightness + 16) / 116;
  const [x, y, z] = [fy + a / 500, fy, fy - b / 200].map(
    (f, k) => WHITE[k] * (f > 6 / 29 ? f ** 3 : 3 * (6 / 29) ** 2 * (f - 4 / 29)),
  );
  return [
    encoded(3.2404542 * x - 1.5371385 * y - 0.4985314 * z),
    encoded(-0.969266 * x + 1.8760108 * y + 0.041556 * z),
    encoded(0.0556434 * x - 0.2040259 * y + 1.0572252 * z),
  ];
}

/** @see IEC 61966-2-1:1999, the transfer function of sRGB */
function encoded(linear: number): number {
  const value = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
  return Math.round(255 * Math.min(1, Math.max(0, value)));
}

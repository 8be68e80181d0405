import { type Random, randomFrom } from "../../random.js";

/** The rows of the table. */
export const CASES = [
  "straight, clean",
  "straight, 5 % of frames missing",
  "straight, flicker of 8 %",
  "straight, four times the noise",
  "circle, clean",
  "circle, a third outside",
  "circle, a sector hidden",
  "circle, 5 % of frames missing",
  "circle, flicker of 8 %",
  "jagged by 3 px",
  "faint: a third of the noise",
  "two half-planes",
  "nothing moves, flicker",
  "nothing moves, drift of the light",
  "nothing moves, shake",
  "thin ring, R as t^n",
  "filled circle, R as t^n",
] as const;
export type Case = (typeof CASES)[number];

/** An invented take in the plane, drawn from its seed. */
export interface PlaneTake {
  readonly seed: number;
  readonly kind: Case;
  readonly rows: number;
  readonly columns: number;
  readonly numbers: readonly number[];
  readonly front: Front;
  readonly blurPixels: number;
  readonly exposureFraction: number;
  readonly before: number;
  readonly step: number;
  readonly noise: number;
  readonly light: readonly number[];
  /** Places at which something hides the front, the angles of a sector about the origin. */
  readonly hidden: readonly [number, number] | null;
  /** How far the picture lies from its place in each frame, px. */
  readonly shake: readonly (readonly [number, number])[];
}

export type Front =
  | { readonly shape: "straight"; readonly angle: number; readonly speed: number; readonly jag: number }
  | { readonly shape: "circle"; readonly origin: readonly [number, number]; readonly speed: number }
  | {
      /** R = coefficient · (t − start)^exponent; a ring passes, a filled circle stays. */
      readonly shape: "power";
      readonly origin: readonly [number, number];
      readonly coefficient: number;
      readonly exponent: number;
      readonly isRing: boolean;
    }
  | { readonly shape: "halves"; readonly speeds: readonly [number, number] }
  | { readonly shape: "still" };

/** Frames before the front enters and after it has left. */
export const QUIET = 14;
const SIZE = { rows: 96, columns: 128 };

export function drawPlane(kind: Case, seed: number): PlaneTake {
  const random = randomFrom(seed);
  const front = drawFront(kind, random);
  const isFaint = kind.startsWith("faint");
  const count = Math.ceil(durationOf(front)) + 2 * (isFaint ? 2 * QUIET : QUIET);
  const missing = kind.includes("missing");
  const numbers = Array.from({ length: count }, (_, k) => k).filter(
    () => !missing || random.uniform() > 0.05,
  );
  const flicker = kind.includes("flicker") ? (front.shape === "still" ? 0.15 : 0.08) : 0;
  const contrast = random.uniform(40, 90) * random.pick([-1, 1]);
  const noise = random.uniform(1, 2) * (kind.includes("four times") ? 4 : 1);
  const phase = random.uniform(0, 6);
  const pace = random.uniform(0.3, 2.5);
  const drift = kind.includes("drift") ? random.uniform(-0.2, 0.2) : 0;
  const walk = [0, 0];
  return {
    seed,
    kind,
    ...SIZE,
    numbers,
    front,
    blurPixels: random.uniform(0.8, 1.5),
    exposureFraction: random.uniform(0.05, 0.9),
    before: 120,
    step: front.shape === "still" ? 0 : isFaint ? 4 * random.pick([-1, 1]) : contrast,
    noise: isFaint ? 12 : noise,
    light: Array.from(
      { length: count },
      (_, k) =>
        1 +
        flicker * (0.7 * Math.sin(pace * k + phase) + 0.3 * random.normal()) +
        drift * Math.sin((1.5 * k) / count + phase),
    ),
    hidden: kind.includes("hidden") ? sector(random) : null,
    shake: Array.from({ length: count }, () => {
      if (!kind.includes("shake")) return [0, 0];
      for (const k of [0, 1]) walk[k] = 0.8 * walk[k] + random.uniform(0.1, 0.4) * random.normal();
      return [walk[0], walk[1]];
    }),
  };
}

function sector(random: Random): readonly [number, number] {
  const from = random.uniform(-Math.PI, Math.PI);
  return [from, from + random.uniform(0.7, 1.4)];
}

function drawFront(kind: Case, random: Random): Front {
  const { rows, columns } = SIZE;
  const speed = random.logUniform(0.8, 4);
  if (kind.startsWith("nothing")) return { shape: "still" };
  if (kind.startsWith("two")) return { shape: "halves", speeds: [speed, speed * random.uniform(1.3, 2)] };
  if (kind.includes("t^n")) {
    const exponent = random.uniform(0.38, 0.65);
    const origin = [random.uniform(0.42, 0.58) * columns, random.uniform(0.42, 0.58) * rows] as const;
    // So many frames until it is 45 px large.
    const coefficient = 45 / random.uniform(50, 90) ** exponent;
    return { shape: "power", origin, coefficient, exponent, isRing: kind.startsWith("thin") };
  }
  if (kind.startsWith("circle")) {
    const inner: readonly [number, number] = [
      random.uniform(0.35, 0.65) * columns,
      random.uniform(0.35, 0.65) * rows,
    ];
    // A chord at 0.265 of the radius cuts a third off a circle.
    const outside: readonly [number, number] = [random.uniform(10, 20), random.uniform(0.3, 0.7) * rows];
    return { shape: "circle", origin: kind.includes("outside") ? outside : inner, speed };
  }
  return {
    shape: "straight",
    angle: random.uniform(-Math.PI, Math.PI),
    speed: kind.startsWith("faint") ? random.logUniform(0.8, 1.6) : speed,
    jag: kind.startsWith("jagged") ? 3 : 0,
  };
}

/** Frames from the first place reached to the last. */
export function durationOf(front: Front): number {
  const { rows, columns } = SIZE;
  if (front.shape === "still") return 80;
  if (front.shape === "halves") return columns / 2 / front.speeds[0] + columns / 2 / front.speeds[1];
  if (front.shape === "straight")
    return (
      (Math.abs(Math.cos(front.angle)) * columns + Math.abs(Math.sin(front.angle)) * rows + 4 * front.jag) /
      front.speed
    );
  const [x, y] = front.origin;
  // Until it has reached the nearer borders of the picture.
  if (front.shape === "power") return (rows / 2 / front.coefficient) ** (1 / front.exponent);
  return Math.hypot(Math.max(x, columns - x), Math.max(y, rows - y)) / front.speed;
}

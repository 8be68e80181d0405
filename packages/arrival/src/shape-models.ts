import { alongSlowness, type InFront } from "./in-front.js";
import type { Point } from "./types.js";

/** How the time of arrival depends on the place: place in px, time in frames, both from the middle of the samples. */
export interface ShapeModel {
  readonly parameters: number;
  /** Time at a place; fills in its derivatives by the parameters. NaN where the model says nothing. */
  readonly time: (parameters: Float64Array, x: number, y: number, derivatives: Float64Array) => number;
}

/** Of a circle about an origin, px and cells: the larger counts. */
const SMALLEST_RADIUS = { px: 8, cells: 2 };
/** Nodes of a front of any form: enough that a corner lies near one (common practice, no source). */
const NODES = 17;
/** Stretches of the smooth form: a wave of three to four periods is followed to some 1e-3 of its height. */
const STRETCHES = 32;

/** T = a + p·x; parameters a, px, py: the slowness vector, frames per px. */
export const straight: ShapeModel = {
  parameters: 3,
  time([a, px, py], x, y, d) {
    d[0] = 1;
    d[1] = x;
    d[2] = y;
    return a + px * x + py * y;
  },
};

/** A straight front whose speed changes: T = a + q + b q² + c q³ with q = p·x; parameters a, px, py, b, c. */
export const straightVarying: ShapeModel = {
  parameters: 5,
  time([a, px, py, b, c], x, y, d) {
    const q = px * x + py * y;
    const slope = 1 + 2 * b * q + 3 * c * q * q;
    d[0] = 1;
    d[1] = x * slope;
    d[2] = y * slope;
    d[3] = q * q;
    d[4] = q * q * q;
    return a + q + b * q * q + c * q * q * q;
  },
};

/** Closer to the origin than this, px, the blur bends the times.
 *  @param cell  edge of a cell, px */
export function smallestRadius({ cell }: { readonly cell: number }): number {
  return Math.max(SMALLEST_RADIUS.px, SMALLEST_RADIUS.cells * cell);
}

/** T = t0 + s r; parameters t0, s, and the origin x, y, which is left out where it is given.
 *  @param smallestRadius  px; closer to the origin the blur bends the times */
export function circle(smallestRadius: number, given: Point | null): ShapeModel {
  return {
    parameters: given ? 2 : 4,
    time(p, x, y, d) {
      const dx = x - (given ? given[0] : p[2]);
      const dy = y - (given ? given[1] : p[3]);
      const r = Math.hypot(dx, dy);
      if (!(r > smallestRadius)) return Number.NaN;
      d[0] = 1;
      d[1] = r;
      if (!given) {
        d[2] = (-p[1] * dx) / r;
        d[3] = (-p[1] * dy) / r;
      }
      return p[0] + p[1] * r;
    },
  };
}

/** A circle whose speed changes: T = t0 + s r + b r²/S + c r³/S²; parameters t0, s, b, c, and the origin.
 *  @param reach  the length S, px */
export function circleVarying(smallestRadius: number, reach: number, given: Point | null): ShapeModel {
  return {
    parameters: given ? 4 : 6,
    time(p, x, y, d) {
      const dx = x - (given ? given[0] : p[4]);
      const dy = y - (given ? given[1] : p[5]);
      const r = Math.hypot(dx, dy);
      if (!(r > smallestRadius)) return Number.NaN;
      const part = r / reach;
      d[0] = 1;
      d[1] = r;
      d[2] = r * part;
      d[3] = r * part * part;
      if (!given) {
        const slope = p[1] + 2 * p[2] * part + 3 * p[3] * part * part;
        d[4] = (-slope * dx) / r;
        d[5] = (-slope * dy) / r;
      }
      return p[0] + p[1] * r + p[2] * r * part + p[3] * r * part * part;
    },
  };
}

/** A circle whose speed differs by direction, an ellipse: T = t0 + s ρ, ρ² = (1 + e1) dx² + (1 − e1) dy² + 2 e2 dx dy; parameters t0, s, e1, e2,
 *  and the origin. With e = |(e1, e2)| the axes are as sqrt((1 + e)/(1 − e)) to 1. */
export function ellipse(smallestRadius: number, given: Point | null): ShapeModel {
  return {
    parameters: given ? 4 : 6,
    time(p, x, y, d) {
      const dx = x - (given ? given[0] : p[4]);
      const dy = y - (given ? given[1] : p[5]);
      const [s, e1, e2] = [p[1], p[2], p[3]];
      const square = (1 + e1) * dx * dx + (1 - e1) * dy * dy + 2 * e2 * dx * dy;
      if (!(square > smallestRadius ** 2)) return Number.NaN;
      const rho = Math.sqrt(square);
      d[0] = 1;
      d[1] = rho;
      d[2] = (s * (dx * dx - dy * dy)) / (2 * rho);
      d[3] = (s * dx * dy) / rho;
      if (!given) {
        d[4] = (-s * ((1 + e1) * dx + e2 * dy)) / rho;
        d[5] = (-s * ((1 - e1) * dy + e2 * dx)) / rho;
      }
      return p[0] + s * rho;
    },
  };
}

/** No shape in particular: a polynomial of the fourth degree in x and y, 15 parameters.
 *  @param reach  lengths are counted in this, px */
export function free(reach: number): ShapeModel {
  return {
    parameters: 15,
    time(p, x, y, d) {
      let sum = 0;
      for (let degree = 0, k = 0; degree <= 4; degree++)
        for (let b = 0; b <= degree; b++, k++) {
          d[k] = (x / reach) ** (degree - b) * (y / reach) ** b;
          sum += p[k] * d[k];
        }
      return sum;
    },
  };
}

/** A front of any form, which it keeps as it moves on: T = s·along + g(across), g from node to node in straight lines; parameters s and the values at the nodes.
 *  @param inFront  places along its run and across it
 *  @param across  between which the nodes lie */
export function rigid(inFront: InFront, across: readonly [number, number]): ShapeModel {
  return {
    parameters: 1 + NODES,
    time(p, x, y, d) {
      const [along, aside] = inFront(x, y);
      const { node, part } = between(across, aside);
      d.fill(0);
      d[0] = along;
      d[1 + node] = 1 - part;
      d[2 + node] = part;
      return p[0] * along + p[1 + node] * (1 - part) + p[2 + node] * part;
    },
  };
}

/** Fronts side by side, each at a speed of its own: T = s(across)·along + g(across), both from node to node in straight lines; parameters s at the nodes, then g.
 *  @param inFront  places along their run and across it
 *  @param across  between which the nodes lie */
export function sideBySide(inFront: InFront, across: readonly [number, number]): ShapeModel {
  return {
    parameters: 2 * NODES,
    time(p, x, y, d) {
      const [along, aside] = inFront(x, y);
      const { node, part } = between(across, aside);
      d.fill(0);
      d[node] = along * (1 - part);
      d[node + 1] = along * part;
      d[NODES + node] = 1 - part;
      d[NODES + node + 1] = part;
      const [slowness, form] = [0, NODES].map((of) => p[of + node] * (1 - part) + p[of + node + 1] * part);
      return slowness * along + form;
    },
  };
}

/** A smooth front of any form that moves as a whole in a direction of its own: T = s·along + g(across), g a cubic spline of even stretches; parameters s, by
 *  how many radians its run is turned, and the coefficients of the spline. NaN aside of where it is seen.
 *  @param towards  direction from which it is turned, radians
 *  @param across  between which it is seen, px
 *  @see C. de Boor, A Practical Guide to Splines, 1978, ch. IX (B-splines; citation from memory) */
export function rigidTurning(
  towards: number,
  [low, high]: readonly [number, number],
): {
  readonly model: ShapeModel;
  /** Parameters of one that is not turned, by its slowness and its time aside of the run. */
  readonly startFrom: (slowness: number, formAt: (across: number) => number) => Float64Array;
} {
  const stretch = (high - low) / STRETCHES;
  const parameters = 2 + STRETCHES + 3;
  const model: ShapeModel = {
    parameters,
    time(p, x, y, d) {
      const [along, across] = alongSlowness(Math.cos(towards + p[1]), Math.sin(towards + p[1]))(x, y);
      const at = (across - low) / stretch;
      if (!(at >= 0 && at <= STRETCHES)) return Number.NaN;
      const first = Math.min(STRETCHES - 1, Math.floor(at));
      const u = at - first;
      const w = 1 - u;
      const basis = [w ** 3, 3 * u ** 3 - 6 * u * u + 4, 3 * w ** 3 - 6 * w * w + 4, u ** 3];
      const slopes = [-3 * w * w, 9 * u * u - 12 * u, 12 * w - 9 * w * w, 3 * u * u];
      d.fill(0);
      let form = 0;
      let slope = 0;
      for (let k = 0; k < 4; k++) {
        const of = 2 + first + k;
        form += (p[of] * basis[k]) / 6;
        slope += (p[of] * slopes[k]) / 6;
        d[of] = basis[k] / 6;
      }
      d[0] = along;
      d[1] = p[0] * across - (slope / stretch) * along;
      return p[0] * along + form;
    },
  };
  const startFrom = (slowness: number, formAt: (across: number) => number) =>
    Float64Array.from({ length: parameters }, (_, k) =>
      k < 2 ? [slowness, 0][k] : formAt(low + (k - 3) * stretch),
    );
  return { model, startFrom };
}

/** A front of any form that grows in proportion, figures similar to each other: T = t0 + r h(angle), h from node to node in straight lines; parameters t0 and
 *  the slowness at the nodes.
 *  @param inFront  places along its radius and about its origin
 *  @param angles  between which the nodes lie, radians
 *  @param smallestRadius  px; closer to the origin the blur bends the times */
export function similar(
  inFront: InFront,
  angles: readonly [number, number],
  smallestRadius: number,
): ShapeModel {
  return {
    parameters: 1 + NODES,
    time(p, x, y, d) {
      const [radius, angle] = inFront(x, y);
      if (!(radius > smallestRadius)) return Number.NaN;
      const { node, part } = between(angles, angle);
      d.fill(0);
      d[0] = 1;
      d[1 + node] = radius * (1 - part);
      d[2 + node] = radius * part;
      return p[0] + radius * (p[1 + node] * (1 - part) + p[2 + node] * part);
    },
  };
}

/** The node before a value, and how far on the way to the next it lies. */
function between([low, high]: readonly [number, number], value: number): { node: number; part: number } {
  const at = Math.min(1, Math.max(0, (value - low) / (high - low))) * (NODES - 1);
  const node = Math.min(NODES - 2, Math.floor(at));
  return { node, part: at - node };
}

import { describe, expect, it } from "vitest";
import { renderTarget } from "../../../scripts/calibration/render-target.js";
import { blurredEllipse, blurredEllipseSlopes, sampleGrid } from "../src/grid/blurred-ellipse.js";
import { cornerCandidates } from "../src/grid/corner-candidates.js";
import { crossing, crossingSlopes } from "../src/grid/crossing.js";
import { type Candidate, growLattices, keyOf, type Lattice } from "../src/grid/grow-lattice.js";
import { extentOf, matchLattice } from "../src/grid/match-lattice.js";
import { refineCorner } from "../src/grid/refine-corner.js";
import { refineDot } from "../src/grid/refine-dot.js";
import { spot, spotSlopes } from "../src/grid/spot.js";
import { centralDifferences } from "../src/numbers/least-squares.js";
import { type Field, fieldOf } from "../src/pictures/field.js";
import { step, stepSlopes } from "../src/pictures/refine-edge.js";
import type { Point } from "../src/types.js";
import { board, dotted, seenPoints, square } from "./cameras.js";

const look = { blur: 0.8, dark: 30, bright: 200, fall: 1, noise: 2, seed: 3 };
const pictureOf = (target: typeof board): Field =>
  fieldOf({ data: renderTarget(square, target, look), rows: square.rows, columns: square.columns });
const truthOf = (target: typeof board) => seenPoints(square, target).map(({ pixel }) => pixel);
const distance = ([x, y]: Point, [a, b]: Point) => Math.hypot(x - a, y - b);

/** Corners of an invented board, whose quarters are exchanged from one to the next. */
function candidates(along: number, across: number, at: (i: number, j: number) => Point): Candidate[] {
  return Array.from({ length: along * across }, (_, n) => {
    const [i, j] = [n % along, Math.floor(n / along)];
    const [x, y] = at(i, j);
    const [rising, falling] = (i + j) % 2 === 0 ? [0, Math.PI / 2] : [Math.PI / 2, 0];
    return { x, y, strength: 100, rising, falling };
  });
}

const even = (i: number, j: number): Point => [20 + 15 * i, 30 + 15 * j];

/** A lattice without growing it. */
function latticeOf(
  along: number,
  across: number,
  lacks: (i: number, j: number) => boolean = () => false,
): Lattice {
  const nodes = new Map<string, { i: number; j: number; candidate: Candidate }>();
  candidates(along, across, even).forEach((candidate, n) => {
    const [i, j] = [n % along, Math.floor(n / along)];
    if (!lacks(i, j)) nodes.set(keyOf(i, j), { i, j, candidate });
  });
  return { nodes };
}

describe("cornerCandidates", () => {
  it("has a candidate within a pixel of every inner corner, and the strongest are no others", () => {
    const found = cornerCandidates(pictureOf(board));
    const truth = truthOf(board);
    for (const corner of truth) expect(found.some(({ x, y }) => distance([x, y], corner) < 1)).toBe(true);
    for (const { x, y } of found.slice(0, 54))
      expect(Math.min(...truth.map((t) => distance([x, y], t)))).toBeLessThan(1);
  });

  it("has none in an even picture, on an edge, or in one smaller than a corner", () => {
    const [rows, columns] = [40, 60];
    const edge = Float64Array.from({ length: rows * columns }, (_, at) => (at % columns < 30 ? 40 : 180));
    expect(cornerCandidates({ data: edge, rows, columns })).toEqual([]);
    expect(cornerCandidates({ data: edge.fill(90), rows, columns })).toEqual([]);
    expect(cornerCandidates({ data: new Float64Array(100), rows: 10, columns: 10 })).toEqual([]);
  });
});

describe("growLattices", () => {
  it("grows one grid of all corners, though perspective bends their steps", () => {
    const seen = (i: number, j: number): Point => [20 + (18 * i) / (1 + 0.02 * i), 30 + 16 * j - 0.4 * i * j];
    const [first, ...others] = growLattices(candidates(7, 5, seen));
    expect(first.nodes.size).toBe(35);
    expect(others).toEqual([]);
    const steps = [...first.nodes.values()].map(({ i, j }) => [i, j]);
    expect(Math.max(...steps.map(([i]) => i)) - Math.min(...steps.map(([i]) => i)) + 1).toBeOneOf([7, 5]);
  });

  it("goes round a corner that is missing, and does not take one of the same quarters for a neighbour", () => {
    const all = candidates(6, 5, even);
    const [whole] = growLattices(all.filter((_, n) => n !== 14));
    expect(whole.nodes.size).toBe(29);
    const alike = all.map((one) => ({ ...one, rising: 0, falling: Math.PI / 2 }));
    expect(growLattices(alike).every(({ nodes }) => nodes.size < 30)).toBe(true);
  });

  it("grows none from fewer than four", () => {
    expect(growLattices(candidates(3, 1, even))).toEqual([]);
  });
});

describe("matchLattice", () => {
  it("puts the points in order, rows from left to right, whichever way the lattice was grown", () => {
    const places = matchLattice(latticeOf(5, 4), 5, 4)!.places;
    places.forEach((place, n) => {
      expect(place).toEqual(even(n % 5, Math.floor(n / 5)));
    });
    expect(matchLattice(latticeOf(5, 4), 4, 5)!.places).toHaveLength(20);
  });

  it("leaves a point that was not seen open, and strays off the edge out", () => {
    const gap = matchLattice(
      latticeOf(5, 4, (i, j) => i === 2 && j === 1),
      5,
      4,
    )!.places;
    expect(gap.flatMap((place, n) => (place ? [] : [n]))).toEqual([7]);
    const stray = latticeOf(6, 4, (i, j) => i === 5 && j !== 2);
    expect(extentOf(stray)).toEqual({ along: 5, across: 4 });
    expect(matchLattice(stray, 5, 4)).not.toBeNull();
  });

  it("matches none of another count, or of which too few points were seen", () => {
    expect(matchLattice(latticeOf(5, 4), 5, 3)).toBeNull();
    expect(
      matchLattice(
        latticeOf(6, 6, (i, j) => (i * 3 + j) % 3 === 0),
        6,
        6,
      ),
    ).toBeNull();
  });
});

type Places = Parameters<typeof spot>[0];
const figures = (places: Places, [x, y, logA, logB, skew, logBlur]: readonly number[]) =>
  [sampleGrid(places), [x, y], [Math.exp(logA), Math.exp(logB), skew], Math.exp(logBlur)] as const;
const ellipse = (places: Places, at: readonly number[]) => blurredEllipse(...figures(places, at));
const ellipseSlopes = (places: Places, at: readonly number[]) => blurredEllipseSlopes(...figures(places, at));

describe.each([
  ["crossing", crossing, crossingSlopes, [0.3, -0.4, 0.2, 1.9, 0.5]],
  ["sharp crossing", crossing, crossingSlopes, [0.3, -0.4, 0.2, 1.9, -0.9]],
  ["step", step, stepSlopes, [0.3, 0.7, 0.5]],
  ["spot", spot, spotSlopes, [0.3, -0.4, 0.5, 0.8, 0.4, 0.5]],
  ["blurred ellipse", ellipse, ellipseSlopes, [0.3, -0.4, -0.8, -0.5, 0.1, 0.3]],
] as const)("the slopes of a %s", (_, shape, slopesOf, at) => {
  it("are its derivatives, to the 2e-8 that central differences give", () => {
    const places = Array.from({ length: 49 }, (_, n) => [(n % 7) - 3, Math.floor(n / 7) - 3]);
    const [x, y] = [0, 1].map((axis) => Float64Array.from(places, (place) => place[axis]));
    const samples = { x, y, radiusPixels: 4 };
    const numeric = centralDifferences((parameters) => shape(samples, parameters), at);
    slopesOf(samples, at).forEach((slopes, k) => {
      expect(Math.max(...slopes.map(Math.abs))).toBeGreaterThan(0.1);
      slopes.forEach((slope, n) => {
        expect(Math.abs(slope - numeric[k][n])).toBeLessThan(2e-8);
      });
    });
  });
});

describe("refineCorner", () => {
  it("places a corner from a start a pixel off within four of its standard uncertainties, and tells its blur", () => {
    const field = pictureOf(board);
    const truth = truthOf(board)[22];
    const found = refineCorner(field, [truth[0] + 0.8, truth[1] - 0.7], [0, Math.PI / 2], 14)!;
    const { place, standardUncertaintyPixels, blurPixels } = found;
    expect(distance(place, truth)).toBeLessThan(4 * Math.SQRT2 * standardUncertaintyPixels);
    expect(standardUncertaintyPixels).toBeLessThan(0.02);
    // The renderer blurs from pixel to pixel: of an edge on a border between two, 0.8 px look like 0.74.
    expect(blurPixels).toBeGreaterThan(0.73);
    expect(blurPixels).toBeLessThan(0.86);
  });

  it("finds none where there is none", () => {
    const even = { data: new Float64Array(1600).fill(80), rows: 40, columns: 40 };
    expect(refineCorner(even, [20, 20], [0, Math.PI / 2], 10)).toBeNull();
  });
});

describe("refineDot", () => {
  it("places a dot within four of its standard uncertainties, round where it is seen square on", () => {
    const field = pictureOf(dotted);
    const truth = truthOf(dotted)[17];
    const found = refineDot(field, [truth[0] + 0.6, truth[1] + 0.5], 18)!;
    expect(distance(found.place, truth)).toBeLessThan(4 * Math.SQRT2 * found.standardUncertaintyPixels);
    expect(found.semiAxesPixels[0] / found.semiAxesPixels[1]).toBeLessThan(1.02);
  });

  it("finds none in an even picture", () => {
    const even = { data: new Float64Array(1600).fill(80), rows: 40, columns: 40 };
    expect(refineDot(even, [20, 20], 10)).toBeNull();
  });
});

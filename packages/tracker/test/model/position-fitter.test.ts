import { Matrix, SVD } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { profileReach, sampleProfile } from "../../src/model/edge-profile.js";
import type { BrightnessField, FrontState } from "../../src/model/front-model.js";
import { modelPositions } from "../../src/model/front-model.js";
import { ownChange } from "../../src/one-front/seen-positions.js";

const FRAMES = 50;
const POSITIONS = 40;

function scene(wandering: boolean): { field: BrightnessField; state: FrontState } {
  const normal = seededNormal(3);
  const field = {
    data: Float64Array.from({ length: FRAMES * POSITIONS }, () => 1000 + 30 * normal()),
    frames: FRAMES,
    positions: POSITIONS,
  };
  const frontPixels = Float64Array.from(
    { length: FRAMES },
    (_, i) => 45 - 1.1 * i + (wandering ? 6 * Math.sin(i) : 0),
  );
  return { field, state: { shape: "step", sense: -1, frontPixels, blurPixels: 0.8, smearPixels: 1.1 } };
}

/** Least squares of one position on a constant and the profile, sampled in every frame, by a library. */
function byLibrary({ data, window }: BrightnessField, state: FrontState, position: number) {
  const first = window?.first[position] ?? 0;
  const end = window?.end[position] ?? FRAMES;
  const sample = { value: 0, byDistance: 0, byLogBlur: 0 };
  const rows = Array.from({ length: end - first }, (_, k) => {
    const behind = state.sense * (state.frontPixels[first + k] - position);
    sampleProfile(state.shape, behind, state.blurPixels, state.smearPixels, sample);
    const reach = profileReach(state.blurPixels, state.smearPixels);
    return [1, behind > reach ? (state.shape === "step" ? 1 : 0) : behind > -reach ? sample.value : 0];
  });
  const levels = Array.from({ length: end - first }, (_, k) => data[(first + k) * POSITIONS + position]);
  if (state.alike) {
    const weight = Math.sqrt(state.alike.precision);
    rows.push([0, weight]);
    levels.push(weight * state.alike.change);
  }
  const design = new Matrix(rows);
  const solution = new SVD(design).solve(Matrix.columnVector(levels));
  const left = Matrix.sub(Matrix.columnVector(levels), design.mmul(solution));
  return {
    before: solution.get(0, 0),
    change: solution.get(1, 0),
    sumOfSquares: left.norm("frobenius") ** 2,
  };
}

describe("levels before and after at every position", () => {
  for (const wandering of [false, true])
    it(`are those of least squares over every frame, the front ${wandering ? "going to and fro" : "on a line"}`, () => {
      const { field, state } = scene(wandering);
      for (const model of modelPositions(field, state).slice(5, 35)) {
        const expected = byLibrary(field, state, model.position);
        expect(model.before).toBeCloseTo(expected.before, 6);
        expect(model.change).toBeCloseTo(expected.change, 6);
        expect(model.sumOfSquares / expected.sumOfSquares).toBeCloseTo(1, 9);
      }
    });

  it("are drawn to what is known of changes that are alike, as by one more sample", () => {
    const { field, state } = scene(false);
    const alike = { change: -20, precision: 3.7 };
    for (const shape of ["pulse", "pair"] as const) {
      const drawn: FrontState = { ...state, shape, alike };
      for (const model of modelPositions(field, drawn).slice(5, 35)) {
        const expected = byLibrary(field, drawn, model.position);
        expect(model.before).toBeCloseTo(expected.before, 6);
        expect(model.change).toBeCloseTo(expected.change, 6);
        expect(model.sumOfSquares / expected.sumOfSquares).toBeCloseTo(1, 9);
      }
    }
  });

  it("are told by the samples alone once what was known is taken off again", () => {
    const { field, state } = scene(false);
    const alike = { change: -20, precision: 0.4 };
    const plain: FrontState = { ...state, shape: "pulse" };
    const alone = modelPositions(field, plain);
    modelPositions(field, { ...plain, alike }).forEach((model, p) => {
      if (p < 5 || p >= 35) return;
      const own = ownChange(model, alike);
      expect(own?.change).toBeCloseTo(alone[p].change, 6);
      expect(own?.variance).toBeCloseTo(alone[p].inverse[2], 6);
    });
  });

  it("are those of the frames that count", () => {
    const { field, state } = scene(false);
    const window = {
      first: Int32Array.from({ length: POSITIONS }, (_, p) => 3 + (p % 4)),
      end: Int32Array.from({ length: POSITIONS }, (_, p) => 44 + (p % 5)),
    };
    const windowed = { ...field, window };
    for (const model of modelPositions(windowed, state).slice(8, 32)) {
      const expected = byLibrary(windowed, state, model.position);
      expect(model.before).toBeCloseTo(expected.before, 6);
      expect(model.change).toBeCloseTo(expected.change, 6);
    }
  });

  it("bear a residual in each frame near the front", () => {
    const { field, state } = scene(true);
    for (const { position, before, change, near, value, residual } of modelPositions(field, state))
      near.forEach((frame, n) => {
        const modelled = before + change * value[n];
        expect(residual[n]).toBeCloseTo(field.data[frame * POSITIONS + position] - modelled, 8);
      });
  });
});

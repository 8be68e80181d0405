import {
  type Camera,
  expose,
  type Look,
  type Target,
  viewTarget,
} from "../../../scripts/calibration/render-target.js";
import { findGrid } from "../src/grid/find-grid.js";

export const clear: Look = { blur: 0.8, dark: 30, bright: 200, fall: 1, noise: 2, seed: 3 };
/** Dim, half the light at the far corner, step to noise 20 in the light and 10 in the shade. */
export const poor: Look = { blur: 1, dark: 15, bright: 75, fall: 0.5, noise: 3, seed: 5 };
export const patternOf = ({ kind, along, across, pitch }: Target) => ({
  kind,
  along,
  across,
  pitchMetres: pitch,
});

const views = new Map<string, Float64Array>();

/** What look and seed do not change is rendered once. */
export function renderTarget(camera: Camera, target: Target, look: Look): Uint8Array {
  const key = JSON.stringify([camera, target, look.blur]);
  const view = views.get(key) ?? viewTarget(camera, target, look.blur);
  views.set(key, view);
  return expose(camera, view, look);
}

export function find(camera: Camera, target: Target, look: Look, asked = target) {
  const { rows, columns } = camera;
  return findGrid({ data: renderTarget(camera, target, look), rows, columns }, patternOf(asked));
}

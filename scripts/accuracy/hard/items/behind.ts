import type { Random } from "../../../random.js";
import { edgeTable } from "../../edge-table.js";
import { dirtOf } from "../../render-take.js";
import { type Item, passage, type Scene } from "../scene.js";

/** What the front leaves behind it and sends ahead. */
export const BEHIND: readonly Item[] = [
  {
    // Thin cracks of random sign, size and way; averaged across the width, brightness does not change.
    name: "crack-cloud",
    slot: "change",
    add(scene) {
      const { random } = scene;
      const { before, bits } = scene.take;
      const size = random.logUniform(3, 20);
      // Brightness must not run into black or white, which would change its mean: a camera of less noise, then.
      const room = Math.min(before, 2 ** bits - 1 - before) / 3.5;
      const noise = Math.min(scene.take.noise, room / size);
      scene.take = { ...scene.take, noise, stepToNoise: size };
      scene.changeSize = size * noise;
      const first = cloudField(scene, random);
      if (random.uniform() < 0.5) {
        scene.change = (_, r, p) => scene.changeSize * at(first, r, p);
        return;
      }
      // Half of the clouds flash: each crack comes and goes.
      const second = cloudField(scene, random);
      const period = random.uniform(6, 40);
      scene.change = (i, r, p) => {
        const phase = (2 * Math.PI * i) / period;
        return scene.changeSize * (Math.cos(phase) * at(first, r, p) + Math.sin(phase) * at(second, r, p));
      };
      function at(field: Float64Array, r: number, p: number): number {
        const { across, along } = scene.take;
        const inside = r >= 0 && r < across && p >= 0 && p < along;
        return inside ? field[r * along + p] : 0;
      }
    },
  },
  {
    name: "level-decay",
    add(scene) {
      const { random } = scene;
      const depth = random.uniform(0.2, 0.8);
      const time = random.logUniform(5, 40);
      const saturates = random.uniform() < 0.4;
      scene.aged = (age) => {
        const fallen = depth * (1 - Math.exp(-Math.max(0, age) / time));
        return saturates ? 1 - depth + fallen : 1 - fallen;
      };
    },
  },
  {
    name: "glow",
    mayRaise: ["ambiguous-front"],
    add(scene) {
      const { random, take } = scene;
      const reach = random.logUniform(5, 40);
      const size = random.uniform(0.05, 0.4) * take.polarity * take.step;
      const { front } = take;
      const entered = Math.max(0, passage(take)(0));
      const left = Math.min(front.length - 1, passage(take)(take.along - 1));
      const edge = edgeTable(take.blurPixels, take.pixelsPerFrame * take.exposureFraction);
      scene.layers.push((i, _, p) => {
        const grown = Math.min(1, Math.max(0, (i - entered) / Math.max(1, left - entered)));
        const ahead = p - front[i];
        // Behind the front its light is part of the level there; what parts the two is as blurred as the front.
        const uncovered = 1 - edge.value(-ahead);
        return size * (0.2 + 0.8 * grown) * Math.exp(-Math.max(0, ahead) / reach) * uncovered;
      });
    },
  },
  {
    name: "passing-cloud",
    mayRaise: ["ambiguous-front"],
    add(scene) {
      const { random, take } = scene;
      const width = random.uniform(6, 25);
      const size = random.uniform(0.5, 2) * random.pick([1, -1] as const) * take.step;
      const slower = random.uniform() < 0.5 ? 1 : random.uniform(0.5, 0.95);
      const lag = width * random.uniform(1.5, 3);
      const entered = passage(take)(0);
      const { front } = take;
      scene.layers.push((i, _, p) => {
        // It follows the front at its speed or falls back.
        const at = front[i] - lag - (1 - slower) * take.pixelsPerFrame * Math.max(0, i - entered);
        return size * Math.exp(-0.5 * ((p - at) / width) ** 2);
      });
    },
  },
];

/** Thin lines over each other, shape [across, along]: no change of the mean across the width of the picture with its
 *  dirt, root mean square 1. */
function cloudField({ take }: Scene, random: Random): Float64Array {
  const { across, along } = take;
  const field = new Float64Array(across * along);
  const count = Math.ceil((across * along) / 10);
  for (let k = 0; k < count; k++) {
    const [r0, p0] = [random.uniform(0, across), random.uniform(0, along)];
    const angle = random.uniform(0, Math.PI);
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const half = random.uniform(3, 20) / 2;
    const sigma = random.uniform(1, 3) / 2.355;
    const size = random.normal();
    const reach = Math.ceil(half + 3 * sigma);
    for (let r = Math.max(0, Math.floor(r0 - reach)); r < Math.min(across, r0 + reach); r++)
      for (let p = Math.max(0, Math.floor(p0 - reach)); p < Math.min(along, p0 + reach); p++) {
        const aside = (r - r0) * cos - (p - p0) * sin;
        const beyond = Math.max(0, Math.abs((r - r0) * sin + (p - p0) * cos) - half);
        field[r * along + p] += size * Math.exp(-(aside ** 2 + beyond ** 2) / (2 * sigma ** 2));
      }
  }
  const dirt = dirtOf(take);
  let squares = 0;
  for (let p = 0; p < along; p++) {
    let sum = 0;
    let weight = 0;
    for (let r = 0; r < across; r++) {
      sum += field[r * along + p] * dirt[r * along + p];
      weight += dirt[r * along + p];
    }
    for (let r = 0; r < across; r++) {
      field[r * along + p] -= sum / weight;
      squares += field[r * along + p] ** 2;
    }
  }
  const size = Math.sqrt(squares / field.length);
  return field.map((value) => value / size);
}

import { type Item, passage, type Scene } from "../scene.js";
import { smooth } from "./motion.js";

/** Movements of the whole picture, the front with it, over a static texture. The speed wanted is that over the pane. */
export const SHIFTS: readonly Item[] = [
  {
    name: "pane-kick",
    inStill: true,
    mayRaise: ["picture-moved"],
    add(scene) {
      const { random, take } = scene;
      withTexture(scene);
      const size = random.logUniform(0.3, 3);
      const angle = random.uniform(0, 2 * Math.PI);
      const period = random.logUniform(4, 60);
      const time = random.logUniform(10, 80);
      const begin = scene.still ? random.uniform(0, take.frames / 2) : Math.max(0, passage(take)(0));
      scene.shifts.push((i) => {
        const age = i - begin;
        if (age <= 0) return [0, 0];
        const shift = size * Math.exp(-age / time) * Math.sin((2 * Math.PI * age) / period);
        return [shift * Math.cos(angle), shift * Math.sin(angle)];
      });
    },
  },
  {
    name: "camera-shake",
    inStill: true,
    mayRaise: ["picture-moved"],
    add(scene) {
      const { random, take } = scene;
      withTexture(scene);
      const size = random.logUniform(0.2, 2);
      const time = random.logUniform(2, 20);
      const [along, across] = [smooth(take.frames, time, random), smooth(take.frames, time, random)].map(
        (shift) => {
          const largest = shift.reduce((most, s) => Math.max(most, Math.abs(s)), 0);
          return shift.map((s) => (size * s) / largest);
        },
      );
      scene.shifts.push((i) => [along[i], across[i]]);
    },
  },
];

function withTexture(scene: Scene): void {
  scene.texture = Math.max(scene.texture, scene.random.uniform(0.08, 0.3));
}

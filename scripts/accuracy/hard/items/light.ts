import type { Item } from "../scene.js";

/** Changes of the light on the whole picture. */
export const LIGHT: readonly Item[] = [
  {
    name: "flicker",
    inStill: true,
    mayRaise: ["flicker-divided-out"],
    add({ light, random }) {
      const depth = random.uniform(0.01, 0.15);
      const [period, phase] = [random.uniform(2.3, 30), random.uniform(0, 2 * Math.PI)];
      light.push((i) => 1 + depth * Math.sin((2 * Math.PI * i) / period + phase));
    },
  },
  {
    name: "ripple",
    inStill: true,
    mayRaise: ["flicker-divided-out"],
    add({ light, random }) {
      const depth = random.uniform(0.01, 0.15);
      const share = random.uniform(0.3, 0.7);
      const waves = [share, 1 - share].map((part) => ({
        size: depth * part,
        period: random.logUniform(2.3, 40),
        phase: random.uniform(0, 2 * Math.PI),
      }));
      light.push((i) =>
        waves.reduce((sum, w) => sum + w.size * Math.sin((2 * Math.PI * i) / w.period + w.phase), 1),
      );
    },
  },
  {
    name: "drift",
    inStill: true,
    mayRaise: ["flicker-divided-out"],
    add({ light, random, take }) {
      const depth = random.uniform(0.02, 0.15) * random.pick([1, -1] as const);
      const bend = random.uniform(0.5, 2);
      const { frames } = take;
      light.push((i) => 1 + depth * (i / (frames - 1)) ** bend);
    },
  },
  {
    name: "lamp",
    inStill: true,
    mayRaise: ["flicker-divided-out"],
    add({ light, random, take }) {
      const size = random.uniform(0.1, 0.4);
      const rise = random.logUniform(1, 30);
      const begin = random.uniform(0, take.frames);
      light.push((i) => 1 + size * Math.min(1, Math.max(0, (i - begin) / rise)));
    },
  },
  {
    name: "exposure-jump",
    inStill: true,
    mayRaise: ["flicker-divided-out"],
    add({ light, random, take }) {
      const size = random.uniform(0.05, 0.3) * random.pick([1, -1] as const);
      const begin = random.integer(2, take.frames - 2);
      light.push((i) => (i >= begin ? 1 + size : 1));
    },
  },
];

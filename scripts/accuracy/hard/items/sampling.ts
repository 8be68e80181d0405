import type { Item } from "../scene.js";

/** What camera and export make of neighbouring samples. */
export const SAMPLING: readonly Item[] = [
  {
    name: "mosaic",
    slot: "sampling",
    inStill: true,
    add(scene) {
      const { random } = scene;
      const gains = [random.uniform(0.5, 1), 1, 1, random.uniform(0.5, 1)];
      scene.mosaic = { gains, averaged: random.uniform() < 0.5 };
    },
  },
  {
    name: "compression",
    slot: "sampling",
    inStill: true,
    base: { bits: 8 },
    add(scene) {
      scene.jpegQuality = scene.random.integer(60, 95);
    },
  },
  {
    name: "resampled",
    slot: "sampling",
    inStill: true,
    base: { longest: 200 },
    add(scene) {
      scene.magnification = scene.random.uniform(1.1, 2);
    },
  },
];

import { randomFrom } from "../../random.js";
import { type BaseOptions, drawBase } from "./draw-base.js";
import { ITEMS } from "./items.js";
import type { Item, Scene } from "./scene.js";

/** A take with the named items in it, drawn from its seed; they are added in the order of the list of items.
 *  @throws RangeError on an unknown name */
export function drawHard(names: readonly string[], seed: number, still = false): Scene {
  const items = itemsOf(names);
  const base = items.reduce<BaseOptions>((all, item) => joined(all, item.base ?? {}), {});
  const { take, deviation } = drawBase(seed, base, still);
  const scene: Scene = {
    random: randomFrom(seed ^ 0x2f6e2b1),
    still,
    take,
    deviation,
    change: () => take.polarity * take.step,
    changeSize: take.step,
    aged: () => 1,
    beginsAt: Number.NEGATIVE_INFINITY,
    endsAt: Number.POSITIVE_INFINITY,
    inRow: () => true,
    layers: [],
    light: [],
    shifts: [],
    texture: 0,
    stored: [],
    kept: () => true,
    mosaic: null,
    jpegQuality: null,
    magnification: 1,
    truthFromFramesUsed: false,
  };
  for (const item of items) item.add(scene);
  if (scene.stored.length === 0)
    scene.stored = Array.from({ length: scene.take.frames }, (_, i) => ({ a: i, b: i, share: 0 }));
  return scene;
}

/** The named items, in the order of the list. */
export function itemsOf(names: readonly string[]): Item[] {
  for (const name of names)
    if (!ITEMS.some((item) => item.name === name))
      throw new RangeError(
        `an item must be one of ${ITEMS.map((item) => item.name).join(", ")}, got ${name}`,
      );
  return ITEMS.filter(({ name }) => names.includes(name));
}

function joined(one: BaseOptions, other: BaseOptions): BaseOptions {
  const leastSeen = Math.max(one.leastSeen ?? 0, other.leastSeen ?? 0);
  const longest = Math.min(one.longest ?? 400, other.longest ?? 400);
  return { ...one, ...other, longest, ...(leastSeen > 0 && { leastSeen }) };
}

/** Frame numbers of the take. */
export function numbersOf({ stored, kept }: Scene): number[] {
  return stored.map((_, number) => number).filter((number) => number === 0 || kept(number));
}

/** m/s. @param first, last  numbers of the first and last frames used */
export function trueSpeed(scene: Scene, first: number, last: number): number {
  const { take, stored, magnification, deviation, truthFromFramesUsed } = scene;
  let pixelsPerFrame = take.pixelsPerFrame;
  if (truthFromFramesUsed) {
    const [a, b] = [stored[first].a, stored[last].a];
    pixelsPerFrame = (take.front[b] - take.front[a]) / (b - a);
  }
  return pixelsPerFrame * magnification * take.rateHz * take.metresPerPixel * deviation;
}

import type { Random } from "../../random.js";
import type { DrawnTake } from "../draw-take.js";
import type { BaseOptions } from "./draw-base.js";

/** What one stored frame shows: a mix of the moments `a` and `b` (frames that the camera took). */
export interface Stored {
  readonly a: number;
  readonly b: number;
  /** Share of b, 0 for a plain frame. */
  readonly share: number;
}

/** Everything that is rendered, in one picture's own coordinates: the front runs towards larger positions p, r counts
 *  rows across its way, i is the frame that the camera took. Items change it one after the other. */
export interface Scene {
  readonly random: Random;
  /** Nothing runs. */
  readonly still: boolean;
  take: DrawnTake;
  /** Product of what scale and rate really were over what is stated. */
  readonly deviation: number;
  /** Brightness change behind the front, DN, frame i, row r, position p. */
  change: (i: number, r: number, p: number) => number;
  /** Its root mean square, DN, for the bound. */
  changeSize: number;
  /** Share of that change where the front has passed since `age` frames; 1 for a plain step. */
  aged: (age: number) => number;
  /** Where the front begins and ends, px; positions outside never change. */
  beginsAt: number;
  endsAt: number;
  /** Whether the front runs through a row. */
  inRow: (r: number) => boolean;
  /** Added brightness, DN. */
  readonly layers: ((i: number, r: number, p: number) => number)[];
  /** Factors on the light of the whole picture. */
  readonly light: ((i: number) => number)[];
  /** Shifts of the whole picture, px along and across. */
  readonly shifts: ((i: number) => readonly [number, number])[];
  /** Relative contrast of a static texture, 0 for none. */
  texture: number;
  /** What is stored under the numbers 0, 1, 2 …, and which of the numbers are kept. */
  stored: Stored[];
  kept: (number: number) => boolean;
  mosaic: { readonly gains: readonly number[]; readonly averaged: boolean } | null;
  /** JPEG quality; null where nothing is compressed. */
  jpegQuality: number | null;
  /** Stored pixels per pixel of the camera. */
  magnification: number;
  /** Truth is the mean speed between the first and last frames used, from where the front really was; otherwise it is
   *  the speed the front was drawn with. */
  truthFromFramesUsed: boolean;
}

/** One thing that goes wrong in real footage. */
export interface Item {
  readonly name: string;
  /** Two items with the same slot exclude each other. */
  readonly slot?: string;
  /** Whether it can be drawn where nothing runs. */
  readonly inStill?: boolean;
  readonly base?: BaseOptions;
  /** No speed may be given: the take must be told by this warning or reason. */
  readonly noSpeed?: string;
  /** The warning to be raised in 95 % of the takes where fewer than 90 % hold the truth. */
  readonly excusedBy?: string;
  /** Other warnings that the item may rightly raise; their shares are printed. */
  readonly mayRaise?: readonly string[];
  add(scene: Scene): void;
}

/** When the front reached each position, in frames, from where it was in each frame; extended at its mean speed
 *  before the first frame and infinite where it never came. */
export function passage({ front, pixelsPerFrame }: DrawnTake): (p: number) => number {
  const reached = new Map<number, number>();
  const find = (p: number): number => {
    if (front[0] >= p) return (p - front[0]) / pixelsPerFrame;
    const i = front.findIndex((position) => position >= p);
    return i < 0 ? Number.POSITIVE_INFINITY : i - (front[i] - p) / (front[i] - front[i - 1]);
  };
  return (p) => {
    let time = reached.get(p);
    if (time === undefined) {
      time = find(p);
      reached.set(p, time);
    }
    return time;
  };
}

/** The earliest time at which something that comes after the front may happen at p: any time where nothing runs. */
export function earliest(scene: Scene): (p: number) => number {
  if (scene.still) return () => 0;
  const passed = passage(scene.take);
  return (p) => Math.max(0, passed(p));
}

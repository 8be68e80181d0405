import { execFile, execFileSync } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { trueSpeed } from "./draw-hard.js";
import type { Pictures } from "./render-scene.js";
import type { Scene } from "./scene.js";

/** A speed and the half-width of its 95 % interval, relative to the true speed. */
export interface Reading {
  readonly error: number;
  readonly halfWidth: number;
}

const SCRIPT = fileURLToPath(new URL("../../half-level.py", import.meta.url));

/** What the general-purpose script reads from the same pictures, turned so that the front runs along their columns;
 *  it is told neither where nor when. null where it finds no line. */
export async function halfLevelSpeed(scene: Scene, pictures: Pictures): Promise<Reading | null> {
  const folder = await mkdtemp(join(tmpdir(), "half-level-"));
  try {
    const file = join(folder, "take.npy");
    await writeFile(file, npyOf(pictures));
    const { stdout } = await promisify(execFile)("python3", [SCRIPT, file, pictures.numbers.join(",")]);
    const line = JSON.parse(stdout) as {
      slope: number;
      standardError: number;
      factor: number;
      first: number;
      last: number;
    } | null;
    if (!line) return null;
    const { take } = scene;
    const perPixel = (take.rateHz * take.metresPerPixel) / trueSpeed(scene, line.first, line.last);
    const scaleAndRate = 1.96 * Math.hypot(take.relativeScaleUncertainty, take.relativeRateUncertainty);
    return {
      error: line.slope * perPixel - 1,
      halfWidth: perPixel * Math.hypot(line.factor * line.standardError, line.slope * scaleAndRate),
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Whether python3 with NumPy is there. */
export function canRunHalfLevel(): boolean {
  try {
    execFileSync("python3", ["-c", "import numpy"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}

/** NumPy's file of an array, version 1.0: https://numpy.org/doc/stable/reference/generated/numpy.lib.format.html */
function npyOf({ data, across, along }: Pictures): Buffer {
  const shape = `(${data.length}, ${across}, ${along})`;
  const text = `{'descr': '<u2', 'fortran_order': False, 'shape': ${shape}, }`;
  const header = text.padEnd(64 * Math.ceil((text.length + 11) / 64) - 11);
  const head = Buffer.concat([Buffer.from("\x93NUMPY\x01\x00", "latin1"), Buffer.alloc(2)]);
  head.writeUInt16LE(header.length + 1, 8);
  const samples = data.map(({ buffer, byteOffset, byteLength }) =>
    Buffer.from(buffer, byteOffset, byteLength),
  );
  return Buffer.concat([head, Buffer.from(`${header}\n`, "latin1"), ...samples]);
}

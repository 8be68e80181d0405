import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import type { Contestant } from "./contestants.js";

/** One run of a program. */
export interface Run {
  /** From its start to its end. */
  readonly seconds: number;
  /** Peak resident memory; null where it was not reported. */
  readonly peakBytes: number | null;
  /** Of all processors together, its own and that of processes that it started; null where it was not reported. */
  readonly processorSeconds: number | null;
  readonly output: string;
}

/** Exit codes of a program that did its work: the command's 3 says that there is no speed. */
const DONE = [0, 3];

/** Runs a program to its end.
 *  @throws Error with what it printed where it fails */
export async function timedRun({ command, args }: Contestant): Promise<Run> {
  const folder = await mkdtemp(join(tmpdir(), "bench-run-"));
  const usedFile = join(folder, "used");
  const env = { ...process.env, USED_FILE: usedFile };
  const start = performance.now();
  try {
    const output = await promisify(execFile)(command, args, { env, maxBuffer: 1 << 26 })
      .then(({ stdout }) => stdout)
      .catch((error: { code?: unknown; stdout?: string }) => {
        if (!DONE.includes(error.code as number)) throw error;
        return error.stdout ?? "";
      });
    const seconds = (performance.now() - start) / 1000;
    const used = await readFile(usedFile, "utf8").catch(() => null);
    return { seconds, output, ...(used ? JSON.parse(used) : { peakBytes: null, processorSeconds: null }) };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

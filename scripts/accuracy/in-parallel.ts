import { fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import type { DrawOptions } from "./draw-take.js";
import { type Trial, tryTake } from "./try-take.js";

interface Work {
  readonly seeds: readonly number[];
  readonly options: DrawOptions;
}

const file = fileURLToPath(import.meta.url);

/** Tries the takes of the given seeds on all cores; the trials come back in the order of the seeds. */
export async function tryAll(seeds: readonly number[], options: DrawOptions): Promise<Trial[]> {
  const workers = availableParallelism();
  const parts = Array.from({ length: workers }, (_, k) => seeds.filter((_, i) => i % workers === k));
  const trials = await Promise.all(parts.map((part) => inChild({ seeds: part, options })));
  const bySeed = new Map(trials.flat().map((trial) => [trial.seed, trial]));
  return seeds.map((seed) => {
    const trial = bySeed.get(seed);
    if (!trial) throw new Error(`take ${seed} gave no trial`);
    return trial;
  });
}

function inChild(work: Work): Promise<Trial[]> {
  return new Promise((resolve, reject) => {
    // "advanced" keeps NaN and Infinity.
    const child = fork(file, [], { serialization: "advanced" });
    child.once("error", reject);
    child.once("exit", (code) => code && reject(new Error(`a trial process ended with code ${code}`)));
    child.once("message", (trials) => {
      child.disconnect();
      resolve(trials as Trial[]);
    });
    child.send(work);
  });
}

if (process.argv[1] === file && process.send) {
  process.once("message", async ({ seeds, options }: Work) => {
    const trials: Trial[] = [];
    for (const seed of seeds) trials.push(await tryTake(seed, options));
    process.send?.(trials);
  });
}

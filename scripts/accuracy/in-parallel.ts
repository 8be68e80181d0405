import { fork } from "node:child_process";
import { availableParallelism } from "node:os";

/** Does the jobs on all cores, each in a child process that runs `worker`, a module that calls serveJobs.
 *  @returns the outcomes in the order of the jobs */
export async function inParallel<Job, Outcome>(worker: string, jobs: readonly Job[]): Promise<Outcome[]> {
  const workers = availableParallelism();
  const parts = Array.from({ length: workers }, (_, k) => jobs.filter((_, i) => i % workers === k));
  const outcomes = await Promise.all(parts.map((part) => inChild<Job, Outcome>(worker, part)));
  return jobs.map((_, i) => outcomes[i % workers][Math.floor(i / workers)]);
}

/** In a child process: does the jobs that are sent. Where the module is only imported, it does nothing. */
export function serveJobs<Job, Outcome>(module: string, work: (job: Job) => Promise<Outcome>): void {
  if (process.argv[1] !== module || !process.send) return;
  // Without its parent it would go on for hours.
  process.once("disconnect", () => process.exit());
  process.once("message", async (jobs: Job[]) => {
    const outcomes: Outcome[] = [];
    for (const job of jobs) outcomes.push(await work(job));
    process.send?.(outcomes);
  });
}

function inChild<Job, Outcome>(worker: string, jobs: readonly Job[]): Promise<Outcome[]> {
  return new Promise((resolve, reject) => {
    // "advanced" keeps NaN and Infinity.
    const child = fork(worker, [], { serialization: "advanced" });
    child.once("error", reject);
    child.once("exit", (code) => code && reject(new Error(`a trial process ended with code ${code}`)));
    child.once("message", (outcomes) => {
      child.disconnect();
      resolve(outcomes as Outcome[]);
    });
    child.send(jobs);
  });
}

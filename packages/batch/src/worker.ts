import workerpool from "workerpool";
import { batchTake } from "./batch-take.js";
import type { TakeJob } from "./types.js";

// An interrupt goes to all processes of a terminal: the one that started this one stops it.
process.on("SIGINT", () => {});

workerpool.worker({
  measure: (job: TakeJob) => batchTake(job, (progress) => workerpool.workerEmit(progress)),
});

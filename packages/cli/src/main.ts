import { run } from "./run.js";

const controller = new AbortController();
// The first interrupt stops the work; the handler is gone then, and a second one ends the process.
process.once("SIGINT", () => controller.abort());
// The reader of a pipe may leave early.
process.stdout.on("error", () => {});

const { stdout, stderr } = process;
process.exitCode = await run(process.argv.slice(2), { stdout, stderr, signal: controller.signal });

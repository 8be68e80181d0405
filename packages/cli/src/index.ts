export { run } from "./run.js";
export { exitCodes } from "./terminal/exit-code.js";
export type { Output, RunContext } from "./terminal/io.js";

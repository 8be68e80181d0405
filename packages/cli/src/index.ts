export { exitCodes } from "./exit-code.js";
export type { Output, RunContext } from "./io.js";
export { run } from "./run.js";

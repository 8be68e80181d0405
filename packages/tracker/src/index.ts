export { inspectFootage } from "./inspect-footage.js";
export { trackFront } from "./track-front.js";
export type * from "./types.js";

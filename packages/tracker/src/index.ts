export { inspectFootage } from "./inspect-footage.js";
export { tiltWarnings } from "./track/tilt-warnings.js";
export { trackFront } from "./track-front.js";
export type * from "./types.js";

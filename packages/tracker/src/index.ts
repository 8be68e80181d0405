export { trackFront } from "./track-front.js";
export type * from "./types.js";

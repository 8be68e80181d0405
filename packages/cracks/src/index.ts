export { crackNetwork } from "./crack-network.js";
export type { CrackLine, CrackNetwork, CrackSource, FrameSamples, Point } from "./types.js";

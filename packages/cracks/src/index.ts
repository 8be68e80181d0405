export { crackNetwork } from "./crack-network.js";
export type { CrackLine, CrackNetwork, CrackSource, Point } from "./types.js";

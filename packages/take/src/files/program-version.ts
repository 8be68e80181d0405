import { createRequire } from "node:module";

// By name, not by place: the command is bundled.
const manifest: unknown = createRequire(import.meta.url)("@frontpace/take/package.json");

/** Version of the program that stands in every result. */
export const programVersion = (manifest as { version: string }).version;

import { readFileSync } from "node:fs";

const manifest: unknown = JSON.parse(readFileSync(new URL("../package.json", import.meta.url), "utf8"));

/** Version of the program that stands in every result. */
export const programVersion = (manifest as { version: string }).version;

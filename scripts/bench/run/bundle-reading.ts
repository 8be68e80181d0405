import { fileURLToPath } from "node:url";
import { bundleModules } from "../../bundle-modules.js";

/** Where the bundle goes: within the workspace, from where `sharp` is found. */
const FOLDER = new URL("../../../node_modules/.cache/frontpace-bench/", import.meta.url);

export const READING_ALONE = fileURLToPath(new URL("read-alone.js", FOLDER));

/** Bundles the program that reads and averages alone, with all that the command loads for `measure`, as the command is bundled. */
export async function bundleReading(): Promise<void> {
  await bundleModules(fileURLToPath(new URL("read-alone.mjs", import.meta.url)), fileURLToPath(FOLDER));
}

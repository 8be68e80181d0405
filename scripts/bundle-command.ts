/** Bundles the built command, packages/cli/dist/bundle, and the process that measures for a batch, packages/batch/dist/bundle: to find, read
 *  and link hundreds of modules takes longer than many a measurement. */
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { bundleModules } from "./bundle-modules.js";

for (const [name, entry] of [
  ["cli", "main.js"],
  ["batch", "worker.js"],
]) {
  const dist = fileURLToPath(new URL(`../packages/${name}/dist/`, import.meta.url));
  await rm(`${dist}bundle`, { recursive: true, force: true });
  await bundleModules(`${dist}${entry}`, `${dist}bundle`);
}

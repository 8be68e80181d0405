/** Bundles the built command, packages/cli/dist/bundle: to find, read and link hundreds of modules takes longer than many a
 *  measurement. */
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { bundleModules } from "./bundle-modules.js";

const dist = fileURLToPath(new URL("../packages/cli/dist/", import.meta.url));
await rm(`${dist}bundle`, { recursive: true, force: true });
await bundleModules(`${dist}main.js`, `${dist}bundle`);

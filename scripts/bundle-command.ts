/** Bundles the built command into a few files, packages/cli/dist/bundle: to find, read and link hundreds of modules takes longer
 *  than many a measurement. What a subcommand needs alone stays apart and is loaded with it. `sharp` is not bundled: it
 *  holds a binary. */
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const dist = fileURLToPath(new URL("../packages/cli/dist/", import.meta.url));
await rm(`${dist}bundle`, { recursive: true, force: true });
await build({
  entryPoints: [`${dist}main.js`],
  outdir: `${dist}bundle`,
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  external: ["sharp"],
  // CommonJS packages ask for Node's own modules through `require`.
  banner: {
    js: 'import { createRequire as requireOf } from "node:module"; const require = requireOf(import.meta.url);',
  },
  logLevel: "warning",
});

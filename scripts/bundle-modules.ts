import { build } from "esbuild";

/** Bundles built modules into a few files; what is loaded later stays apart and is loaded with it. `sharp` is not bundled: it
 *  holds a binary. */
export async function bundleModules(entry: string, folder: string): Promise<void> {
  await build({
    entryPoints: [entry],
    outdir: folder,
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
}

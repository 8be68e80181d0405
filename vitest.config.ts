import { relative, resolve } from "node:path";
import { defineConfig, type Plugin } from "vitest/config";

const root = import.meta.dirname;
/** Rooms that only calculate: what they take is most of the time of the tests. */
const CALCULATING = "packages/(arrival|calibration|cracks|finder|fit|tracker)";
const SOURCE = new RegExp(`^${CALCULATING}/src/(.*)\\.ts$`);

/** Has what calculates run as it is built, as users run it: transformed for a test it takes half as long again. */
const asBuilt: Plugin = {
  name: "as-built",
  enforce: "pre",
  async resolveId(id, importer, options) {
    const found = await this.resolve(id, importer, { ...options, skipSelf: true });
    const source = found && SOURCE.exec(relative(root, found.id));
    return source && resolve(root, "packages", source[1], "dist", `${source[2]}.js`);
  },
};

export default defineConfig({
  plugins: [asBuilt],
  test: {
    include: ["packages/*/test/**/*.test.ts", "test/**/*.test.ts"],
    globalSetup: "test/build-first.ts",
    testTimeout: 60_000,
    maxWorkers: "100%",
    server: { deps: { external: [new RegExp(`/${CALCULATING}/dist/`)] } },
  },
});

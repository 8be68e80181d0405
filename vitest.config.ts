import { defineConfig } from "vitest/config";

export default defineConfig({
  resolve: { conditions: ["development"] },
  ssr: { resolve: { conditions: ["development"], externalConditions: ["development"] } },
  test: {
    include: ["packages/*/test/**/*.test.ts", "test/**/*.test.ts"],
    testTimeout: 60_000,
    maxWorkers: "100%",
  },
});

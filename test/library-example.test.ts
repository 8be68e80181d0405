import { spawnSync } from "node:child_process";
import { readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { temporaryFolder } from "../packages/take/test/render-take.js";

const root = join(import.meta.dirname, "..");
const readme = await readFile(join(root, "README.md"), "utf8");
const code = /A take and its report, in ten lines of TypeScript:\n\n```ts\n([\s\S]*?)```/.exec(readme)![1];

describe("the library example of the README with a report", async () => {
  const folder = await temporaryFolder();
  const here = (program: string, ...args: string[]) => {
    const file = join(root, "node_modules", program);
    const { status, stdout, stderr } = spawnSync(process.execPath, [file, ...args], {
      cwd: folder,
      encoding: "utf8",
    });
    return { status, printed: stdout + stderr };
  };

  beforeAll(async () => {
    for (const name of ["fixtures", "node_modules"]) await symlink(join(root, name), join(folder, name));
    await writeFile(join(folder, "package.json"), '{ "type": "module" }');
    await writeFile(join(folder, "example.ts"), code);
    const compilerOptions = { composite: false, declaration: false, noEmit: true };
    const project = { extends: join(root, "tsconfig.base.json"), compilerOptions, files: ["example.ts"] };
    await writeFile(join(folder, "tsconfig.json"), JSON.stringify(project));
  });

  it("has at most ten lines", () => {
    expect(code.trimEnd().split("\n").length).toBeLessThanOrEqual(10);
  });

  it("has no error of types", () => {
    expect(here("typescript/bin/tsc", "-p", ".")).toEqual({ status: 0, printed: "" });
  }, 600_000);

  it("measures the take and writes the page of its result", async () => {
    expect(here("tsx/dist/cli.mjs", "example.ts")).toEqual({
      status: 0,
      printed: "",
    });
    const page = await readFile(join(folder, "report.html"), "utf8");
    expect(page).toContain("1480.5");
    expect([...page.matchAll(/"data:image\/png;/g)].length).toBeGreaterThanOrEqual(3);
  }, 600_000);
});

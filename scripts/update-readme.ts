/** Puts what the commands and the library example really print into the README, and the pictures of the worked
 *  example into fixtures/worked-example: `pnpm readme`, after a build. */
import { execFileSync, spawnSync } from "node:child_process";
import { copyFile, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { argumentsOf, asShown, SHOWN } from "./shown-commands.js";

const root = fileURLToPath(new URL("..", import.meta.url));
const file = new URL("../README.md", import.meta.url);
const readme = await readFile(file, "utf8");
// Nothing is as before.
await rm(new URL("../demo-output/quench-day", import.meta.url), { recursive: true, force: true });

const updated = readme
  .replace(SHOWN, (_, before: string, command: string) => `${before}${frontpace(command)}\`\`\``)
  .replace(
    /(## The library\n[\s\S]*?```js\n([\s\S]*?)```\n\n```text\n)[\s\S]*?```/,
    (_, before: string, code: string) =>
      `${before}${execFileSync(process.execPath, ["--input-type=module", "--eval", code], { cwd: root, encoding: "utf8" })}\`\`\``,
  );
await writeFile(file, updated);

const pictures = new URL("../fixtures/worked-example/", import.meta.url);
await mkdir(pictures, { recursive: true });
for (const name of ["streak.png", "fit.svg", "long-take/activity.svg", "plan/plan.svg", "scale/points.png"])
  await copyFile(
    new URL(`../demo-output/${name}`, import.meta.url),
    new URL(name.slice(name.lastIndexOf("/") + 1), pictures),
  );

function frontpace(command: string): string {
  const argv = argumentsOf(command);
  const { stdout } = spawnSync(process.execPath, ["packages/cli/bin/frontpace.js", ...argv], {
    cwd: root,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "ignore"],
  });
  return asShown(stdout);
}

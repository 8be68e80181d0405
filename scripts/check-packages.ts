/** Packs every package as it would be published, checks the tarballs, installs them in an empty project and runs the
 *  library example of the README there. Exits 1 at the first fault. */
import { execFileSync } from "node:child_process";
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const project = await mkdtemp(join(tmpdir(), "frontpace-check-"));
try {
  const names = await readdir(join(root, "packages"));
  for (const name of names) {
    const folder = join(root, "packages", name);
    run("pnpm", ["pack", "--pack-destination", project], folder);
    run("pnpm", ["exec", "publint", "--strict", folder], root);
  }
  const tarballs = (await readdir(project)).filter((file) => file.endsWith(".tgz"));
  if (tarballs.length !== names.length)
    throw new Error(`${names.length} packages gave ${tarballs.length} tarballs`);
  for (const tarball of tarballs)
    run("pnpm", ["exec", "attw", "--profile", "esm-only", join(project, tarball)], root);

  await writeFile(join(project, "package.json"), JSON.stringify({ private: true, type: "module" }));
  run("npm", ["install", "--no-audit", "--no-fund", ...tarballs.map((tarball) => `./${tarball}`)], project);
  await cp(join(root, "fixtures", "cracking-tile"), join(project, "fixtures", "cracking-tile"), {
    recursive: true,
  });
  const example = libraryExample(await readFile(join(root, "README.md"), "utf8"));
  await writeFile(join(project, "example.js"), example.code);
  const printed = run(process.execPath, ["example.js"], project);
  if (printed.trim() !== example.output.trim())
    throw new Error(
      `the README's library example printed\n${printed}\nand the README says\n${example.output}`,
    );
  for (const name of names) await checkSources(name);
  const help = run(join(project, "node_modules", ".bin", "frontpace"), ["--help"], project);
  for (const command of ["measure", "find"])
    if (!help.includes(command)) throw new Error(`the installed command's help lacks "${command}":\n${help}`);
  console.log(
    `${tarballs.length} packages packed, checked, installed in an empty project; the README's example ran`,
  );
} finally {
  await rm(project, { recursive: true, force: true });
}

function run(command: string, args: readonly string[], cwd: string): string {
  try {
    return execFileSync(command, args, { cwd, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
  } catch (error) {
    const { stdout, stderr } = error as { stdout?: string; stderr?: string };
    throw new Error(`${command} ${args.join(" ")} failed\n${stdout ?? ""}\n${stderr ?? ""}`, {
      cause: error,
    });
  }
}

/** Where the numbers of a package come from is said beside them: what its sources cite has to be in what is installed. */
async function checkSources(name: string): Promise<void> {
  const cited = await citationsIn(join(root, "packages", name, "src"), /\.ts$/);
  const shipped = await citationsIn(
    join(project, "node_modules", "@frontpace", name, "dist"),
    /\.(js|d\.ts)$/,
  );
  const lost = [...cited].filter((line) => !shipped.has(line));
  if (lost.length > 0)
    throw new Error(`@frontpace/${name} as installed lacks its sources:\n${lost.join("\n")}`);
}

/** Lines of comments that name a source, or say that there is none. */
async function citationsIn(folder: string, kind: RegExp): Promise<ReadonlySet<string>> {
  const files = (await readdir(folder, { recursive: true })).filter((file) => kind.test(file));
  const texts = await Promise.all(files.map((file) => readFile(join(folder, file), "utf8")));
  const lines = texts.join("\n").match(/^.*(?:@see |from memory|no source).*$/gm) ?? [];
  return new Set(lines.map((line) => line.trim()));
}

/** The first js block under the heading of the library, and the text block behind it that says what it prints. */
function libraryExample(readme: string): { code: string; output: string } {
  const section = readme.split(/^## /m).find((part) => part.startsWith("The library"));
  const code = section?.match(/```js\n([\s\S]*?)```/)?.[1];
  const output = section?.match(/```text\n([\s\S]*?)```/)?.[1];
  if (!code || !output) throw new Error("README.md has no library example with its output");
  return { code, output };
}

/** Builds the pages of every package's types and functions into demo-output/api: `pnpm api-pages`. A link that leads
 *  nowhere, a parameter that is not there, a type that is used and not exported: any warning exits 1. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Application, Comment, Converter, type DeclarationReflection, ReflectionKind } from "typedoc";

const root = fileURLToPath(new URL("..", import.meta.url));
const out = join(root, "demo-output", "api");

/** By the source of an entry, under `packages` and without its ending: how it is imported, and what it is. */
const entries = new Map<string, { readonly name: string; readonly description: string }>();
for (const folder of await readdir(join(root, "packages"))) {
  const { name, description, exports } = JSON.parse(
    await readFile(join(root, "packages", folder, "package.json"), "utf8"),
  ) as { name: string; description: string; exports: Record<string, { types?: string; default?: string }> };
  // What is bundled is started, not imported.
  for (const [entry, { types, default: code }] of Object.entries(exports))
    if (types && !code?.includes("/bundle/"))
      entries.set(join(folder, types.replace("/dist/", "/src/")).replace(/(\/index)?\.d\.ts$/, ""), {
        name: join(name, entry),
        description,
      });
}

const app = await Application.bootstrap({
  name: "frontpace",
  entryPoints: [...entries.keys()].map((source) => join(root, "packages", `${source}{/index,}.ts`)),
  basePath: join(root, "packages"),
  tsconfig: join(root, "test", "tsconfig.json"),
  skipErrorChecking: true, // tsc has checked them
  readme: "none",
  disableSources: true,
  treatWarningsAsErrors: true,
});
app.converter.on(Converter.EVENT_RESOLVE_BEGIN, ({ project }) => {
  for (const module of project.getReflectionsByKind(ReflectionKind.Module)) {
    const { name, description } = entries.get(module.name)!;
    module.name = name;
    module.comment = new Comment([{ kind: "text", text: description }]);
  }
  // What a schema assigns to a key is no default.
  for (const property of project.getReflectionsByKind(ReflectionKind.Property) as DeclarationReflection[])
    if (property.defaultValue === "...") delete property.defaultValue;
});

const project = await app.convert();
if (project) {
  // Types that are used and not exported are looked for in one package, that of the project.
  const packages = new Set([...entries.values()].map(({ name }) => name.split("/").slice(0, 2).join("/")));
  for (project.packageName of packages) app.validate(project);
  if (!app.logger.hasWarnings() && !app.logger.hasErrors()) await app.generateDocs(project, out);
}
if (!project || app.logger.hasWarnings() || app.logger.hasErrors()) process.exitCode = 1;

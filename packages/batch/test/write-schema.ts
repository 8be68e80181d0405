/** Writes the JSON Schema of summary.json into the package: `pnpm schema`, then format. */
import { mkdir, writeFile } from "node:fs/promises";
import { summaryJsonSchema } from "../src/json-schema.js";

const folder = new URL("../schema/", import.meta.url);
await mkdir(folder, { recursive: true });
await writeFile(
  new URL("summary.schema.json", folder),
  `${JSON.stringify(await summaryJsonSchema(), null, 2)}\n`,
);

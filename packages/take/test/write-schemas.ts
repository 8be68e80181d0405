/** Writes the JSON Schemas of the files into the package: `pnpm schema`, then format. */
import { mkdir, writeFile } from "node:fs/promises";
import {
  checkJsonSchema,
  eventsJsonSchema,
  planJsonSchema,
  resultJsonSchema,
  scaleJsonSchema,
  takeJsonSchema,
} from "../src/schemas/json-schemas.js";

const folder = new URL("../schema/", import.meta.url);
await mkdir(folder, { recursive: true });
for (const [name, schema] of [
  ["take", await takeJsonSchema()],
  ["events", await eventsJsonSchema()],
  ["result", await resultJsonSchema()],
  ["plan", await planJsonSchema()],
  ["scale", await scaleJsonSchema()],
  ["check", await checkJsonSchema()],
] as const) {
  await writeFile(new URL(`${name}.schema.json`, folder), `${JSON.stringify(schema, null, 2)}\n`);
}

import { readFile } from "node:fs/promises";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { programVersion } from "../src/files/program-version.js";
import { throttleProgress } from "../src/footage/throttle-progress.js";
import { assembleResult } from "../src/result/assemble-result.js";
import {
  eventsJsonSchema,
  planJsonSchema,
  resultJsonSchema,
  scaleJsonSchema,
  takeJsonSchema,
} from "../src/schemas/json-schemas.js";
import { crossed, frames, notFound, settings, tracked } from "./outcomes.js";

const readJson = async (name: string): Promise<unknown> =>
  JSON.parse(await readFile(new URL(`../${name}`, import.meta.url), "utf8"));

describe("the package", () => {
  it("holds the JSON Schemas that its code generates (pnpm schema writes them)", async () => {
    expect(await readJson("schema/take.schema.json")).toEqual(await takeJsonSchema());
    expect(await readJson("schema/events.schema.json")).toEqual(await eventsJsonSchema());
    expect(await readJson("schema/result.schema.json")).toEqual(await resultJsonSchema());
    expect(await readJson("schema/plan.schema.json")).toEqual(await planJsonSchema());
    expect(await readJson("schema/scale.schema.json")).toEqual(await scaleJsonSchema());
  });

  it("holds a schema of results that a validator of its own kind accepts for every outcome, and only then", async () => {
    const validate = new Ajv2020({ strict: true, strictTuples: false }).compile(
      (await readJson("schema/result.schema.json")) as object,
    );
    for (const outcome of [tracked, crossed, notFound]) {
      const { result } = assembleResult(outcome, settings, frames);
      expect(validate(JSON.parse(JSON.stringify(result)))).toBe(true);
      for (const key of ["speed", "lowerBound", "notFound"])
        expect(validate(JSON.parse(JSON.stringify({ ...result, [key]: undefined }))), key).toBe(false);
      expect(validate({ ...result, extra: 1 })).toBe(false);
    }
    const { result } = assembleResult(tracked, settings, frames);
    expect(validate({ ...result, status: "bounded" })).toBe(false);
  });

  it("ships the schemas, and its version stands in results", async () => {
    expect(await readJson("package.json")).toMatchObject({
      version: programVersion,
      files: expect.arrayContaining(["schema"]),
      exports: { "./schema/result.schema.json": "./schema/result.schema.json" },
    });
  });
});

describe("throttleProgress", () => {
  it("passes ten reports a second, the first of a stage and the last", () => {
    let time = 0;
    const seen: string[] = [];
    const report = throttleProgress(
      ({ stage, done }) => seen.push(`${stage} ${done}`),
      () => time,
    );
    for (let done = 0; done <= 100; done++) {
      report({ stage: "read", done, total: 100 });
      time += 5;
    }
    report({ stage: "fit", done: 0, total: 1 });
    expect(seen).toEqual(["read 0", "read 20", "read 40", "read 60", "read 80", "read 100", "fit 0"]);
  });
});

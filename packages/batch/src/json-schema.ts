/** JSON Schema (2020-12) of summary.json. */
export async function summaryJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { summarySchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./summary-schema.js"),
  ]);
  return toJSONSchema(summarySchema);
}

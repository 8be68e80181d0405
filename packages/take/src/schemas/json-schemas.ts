/** JSON Schema (2020-12) of take.json. */
export async function takeJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { takeFileSchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./take-schema.js"),
  ]);
  return toJSONSchema(takeFileSchema);
}

/** JSON Schema (2020-12) of result.json. */
export async function resultJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { resultSchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./result-schema.js"),
  ]);
  return toJSONSchema(resultSchema);
}

/** JSON Schema (2020-12) of events.json. */
export async function eventsJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { eventsSchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./events-schema.js"),
  ]);
  return toJSONSchema(eventsSchema);
}

/** JSON Schema (2020-12) of plan.json. */
export async function planJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { planSchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./plan-schema.js"),
  ]);
  return toJSONSchema(planSchema);
}

/** JSON Schema (2020-12) of scale.json. */
export async function scaleJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { scaleFileSchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./scale-schema.js"),
  ]);
  return toJSONSchema(scaleFileSchema);
}

/** JSON Schema (2020-12) of check.json. */
export async function checkJsonSchema(): Promise<object> {
  const [{ toJSONSchema }, { checkSchema }] = await Promise.all([
    import("./to-json-schema.js"),
    import("./check-schema.js"),
  ]);
  return toJSONSchema(checkSchema);
}

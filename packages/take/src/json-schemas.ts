/** JSON Schema (2020-12) of take.json. */
export async function takeJsonSchema(): Promise<object> {
  const [{ z }, { takeFileSchema }] = await Promise.all([import("zod"), import("./take-schema.js")]);
  return z.toJSONSchema(takeFileSchema);
}

/** JSON Schema (2020-12) of result.json. */
export async function resultJsonSchema(): Promise<object> {
  const [{ z }, { resultSchema }] = await Promise.all([import("zod"), import("./result-schema.js")]);
  return z.toJSONSchema(resultSchema);
}

/** JSON Schema (2020-12) of events.json. */
export async function eventsJsonSchema(): Promise<object> {
  const [{ z }, { eventsSchema }] = await Promise.all([import("zod"), import("./events-schema.js")]);
  return z.toJSONSchema(eventsSchema);
}

/** JSON Schema (2020-12) of plan.json. */
export async function planJsonSchema(): Promise<object> {
  const [{ z }, { planSchema }] = await Promise.all([import("zod"), import("./plan-schema.js")]);
  return z.toJSONSchema(planSchema);
}

/** JSON Schema (2020-12) of scale.json. */
export async function scaleJsonSchema(): Promise<object> {
  const [{ z }, { scaleFileSchema }] = await Promise.all([import("zod"), import("./scale-schema.js")]);
  return z.toJSONSchema(scaleFileSchema);
}

/** JSON Schema (2020-12) of check.json. */
export async function checkJsonSchema(): Promise<object> {
  const [{ z }, { checkSchema }] = await Promise.all([import("zod"), import("./check-schema.js")]);
  return z.toJSONSchema(checkSchema);
}

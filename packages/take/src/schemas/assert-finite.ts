import { TakeError } from "../take-error.js";

/** Throws where a number anywhere in plain data is NaN or infinite: such a result is a bug, never an answer.
 *  @throws TakeError `not-finite` */
export function assertFinite(value: unknown, where: string): void {
  if (typeof value === "number" && !Number.isFinite(value)) {
    throw new TakeError(
      "not-finite",
      `${where} is ${value}: this is a fault of the program, no result is given`,
      {
        key: where,
        value,
      },
    );
  }
  if (typeof value !== "object" || value === null) return;
  for (const [key, inner] of Object.entries(value)) assertFinite(inner, `${where}.${key}`);
}

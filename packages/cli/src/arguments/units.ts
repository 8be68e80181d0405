import type { QuantityRule } from "./parse-quantity.js";

/** Powers of ten by unit, as `parseQuantity` takes them. */
export const LENGTHS = { m: 0, cm: -2, mm: -3, um: -6, µm: -6, μm: -6, nm: -9 };
export const TIMES = { s: 0, ms: -3, us: -6, µs: -6, μs: -6, ns: -9 };

/** A length > 0, with its uncertainty.
 *  @param what  names it, with its article */
export function lengthRule(option: string, what: string, example: string): QuantityRule {
  return {
    option,
    wanted: `${what}, a number > 0 with its unit (m, cm, mm, um, nm)`,
    example,
    units: LENGTHS,
    withUncertainty: true,
  };
}

/** A time > 0.
 *  @param what  names it, with its article */
export function timeRule(option: string, what: string, example: string): QuantityRule {
  return {
    option,
    wanted: `${what}, a number > 0 with its unit (s, ms, us, ns)`,
    example,
    units: TIMES,
    withUncertainty: false,
  };
}

/** What `--exposure` takes. */
export const exposureRule = timeRule("--exposure", "the time during which a frame collects light", "1us");

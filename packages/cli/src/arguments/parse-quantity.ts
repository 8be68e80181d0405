import { CliError } from "../terminal/cli-error.js";

export interface QuantityRule {
  /** The option, as it stands in messages. */
  readonly option: string;
  /** What is wanted, with its units, and how it looks. */
  readonly wanted: string;
  readonly example: string;
  /** Power of ten by unit; the unit "" where a bare number will do. */
  readonly units: Readonly<Record<string, number>>;
  readonly withUncertainty: boolean;
  /** Whether the uncertainty may be larger than the value: of an offset, about 0. Default: false. */
  readonly isOffset?: boolean;
}

export interface ParsedQuantity {
  readonly value: number;
  /** One standard uncertainty, unit of the value; absent where none was stated. */
  readonly standardUncertainty?: number;
}

const number = String.raw`([+-]?(?:\d+\.?\d*|\.\d+))(?:[eE]([+-]?\d+))?`;
const numberWithUnit = new RegExp(`^${number}\\s*([^\\s\\d.,+-]*)$`);

/** Reads `VALUE[UNIT]` or `VALUE[UNIT]+-UNCERTAINTY[UNIT or %]`, all of it or nothing.
 *  @returns in the base unit; a decimal text gives the nearest double
 *  @throws CliError `invalid-option` naming the option, the text and an example */
export function parseQuantity(text: string, rule: QuantityRule): ParsedQuantity {
  const [valueText, uncertaintyText, ...rest] = text.trim().split(/\s*(?:\+-|±)\s*/);
  if (rest.length > 0) throw wrong(text, rule, "more than one +-");
  const value = parseNumber(valueText, rule, text);
  if (!(value > 0)) throw wrong(text, rule, "the value must be > 0");
  if (uncertaintyText === undefined) return { value };
  if (!rule.withUncertainty) throw wrong(text, rule, "no uncertainty is taken here");
  const standardUncertainty = parseUncertainty(uncertaintyText, value, rule, text);
  if (!(standardUncertainty >= 0)) throw wrong(text, rule, "the uncertainty must be >= 0");
  if (standardUncertainty > value && !rule.isOffset)
    throw wrong(text, rule, "the uncertainty is larger than the value");
  return { value, standardUncertainty };
}

function parseUncertainty(text: string, value: number, rule: QuantityRule, whole: string): number {
  if (text.endsWith("%")) {
    const percent = parseNumber(text.slice(0, -1), { ...rule, units: { "": 0 } }, whole);
    return (value * percent) / 100;
  }
  if (/^[+-]?0+(\.0*)?$/.test(text)) return 0;
  return parseNumber(text, rule, whole);
}

function parseNumber(text: string, rule: QuantityRule, whole: string): number {
  const match = numberWithUnit.exec(text);
  if (!match)
    throw wrong(whole, rule, text.includes(",") ? "the decimal sign is a point" : "this is not a number");
  const [, mantissa, exponent = "0", unit] = match;
  if (!Object.hasOwn(rule.units, unit))
    throw wrong(whole, rule, unit === "" ? "the unit is missing" : `unknown unit "${unit}"`);
  const value = Number(`${mantissa}e${Number(exponent) + rule.units[unit]}`);
  if (!Number.isFinite(value)) throw wrong(whole, rule, "the value is infinite");
  return value;
}

function wrong(text: string, { option, wanted, example }: QuantityRule, reason: string): CliError {
  const message = `${option} must be ${wanted}, for example ${option} ${example}; got "${text}": ${reason}`;
  return new CliError("invalid-option", message);
}

const PREFIXES = [
  [1, ""],
  [1e-3, "m"],
  [1e-6, "u"],
  [1e-9, "n"],
] as const;

/** A length or a time, in the largest unit in which it is at least 1.
 *  @param value  >= 0, in the SI unit
 *  @param digits  significant ones. Default 3 */
export function withUnit(value: number, unit: "m" | "s", digits = 3): string {
  const rounded = Number(value.toPrecision(digits));
  const [size, prefix] = PREFIXES.find(([least]) => rounded >= least) ?? PREFIXES[PREFIXES.length - 1];
  return `${Number((value / size).toPrecision(digits))} ${prefix}${unit}`;
}

/** Three significant digits without an exponent, in groups of three before the point. */
export function threeDigits(value: number): string {
  if (value === 0) return "0";
  return grouped(Number(value.toPrecision(3)));
}

/** A whole number in groups of three. */
export function wholeNumber(value: number): string {
  return grouped(Math.round(value));
}

/** A share in percent, to two significant digits. */
export function percentText(share: number): string {
  return `${grouped(Number((100 * share).toPrecision(2)))} %`;
}

function grouped(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 12 });
}

const PREFIXES = [
  [1, ""],
  [1e-3, "m"],
  [1e-6, "u"],
  [1e-9, "n"],
] as const;

/** A length or a time with a prefix that keeps the number short, to three significant digits. */
export function withUnit(value: number, unit: "m" | "s"): string {
  const [size, prefix] =
    PREFIXES.find(([least]) => Math.abs(value) >= least * (1 - 1e-9)) ?? PREFIXES[PREFIXES.length - 1];
  return `${threeDigits(value / size)} ${prefix}${unit}`;
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

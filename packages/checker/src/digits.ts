/** Three significant digits, without a power of ten. */
export function digits(value: number): string {
  return String(Number(value.toPrecision(3)));
}

export function percent(share: number): string {
  return `${digits(100 * share)} %`;
}

/** An uncertainty: two significant digits. */
export function twoDigits(value: number): string {
  return String(Number(value.toPrecision(2)));
}

const TIMES = [
  [1, "s"],
  [1e-3, "ms"],
  [1e-6, "us"],
] as const;

/** A time in the unit in which it is 1 or more, four significant digits. */
export function timeText(seconds: number): string {
  const [unit, name] = TIMES.find(([unit]) => seconds >= unit) ?? [1e-9, "ns"];
  return `${Number((seconds / unit).toPrecision(4))} ${name}`;
}

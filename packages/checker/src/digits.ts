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

/** A number for a message: four significant digits, trailing zeros left out. */
export function fourDigits(value: number): string {
  return String(Number(value.toPrecision(4)));
}

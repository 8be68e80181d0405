/** A value and the half-width of its interval as text: the half-width to two significant digits, the value to
 *  the same place.
 *  @see JCGM 100:2008, 7.2.6 */
export function roundPair(value: number, halfWidth: number): { value: string; halfWidth: string } {
  if (!(halfWidth > 0)) return { value: plain(Number(value.toPrecision(6))), halfWidth: "0" };
  const rounded = Number(halfWidth.toPrecision(2));
  const place = Math.floor(Math.log10(rounded)) - 1;
  return { value: toPlace(value, place), halfWidth: toPlace(rounded, place) };
}

/** Two significant digits without an exponent, except for what would be a long row of zeros. */
export function twoDigits(value: number): string {
  if (value === 0) return "0";
  return value >= 1e-9 && value < 1e21 ? roundPair(value, value).halfWidth : value.toExponential(1);
}

/** Rounds down to three significant digits: what is "at least" must not be rounded up. */
export function roundDown(value: number): string {
  const place = Math.floor(Math.log10(value)) - 2;
  const unit = Number(`1e${place}`);
  return toPlace(Math.floor(value / unit + 1e-9) * unit, place);
}

function toPlace(value: number, place: number): string {
  if (place >= 0) {
    const unit = 10 ** place;
    return plain(Math.round(value / unit) * unit);
  }
  return value.toFixed(Math.min(100, -place));
}

function plain(value: number): string {
  return Math.abs(value) >= 1e-6 && Math.abs(value) < 1e21 ? String(value) : value.toExponential();
}

/** A number for a message: four significant digits, trailing zeros left out. */
export function fourDigits(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** Differences beneath this are of rounding. */
const ROUNDING = 1e-10;

/** Four significant digits that are no less than the value: a limit that is to be reached. */
export function noLess(value: number): string {
  return towards(value, 1);
}

/** Four significant digits that are no more than the value. */
export function noMore(value: number): string {
  return towards(value, -1);
}

function towards(value: number, sense: 1 | -1): string {
  const rounded = Number(value.toPrecision(4));
  if (value === 0 || sense * (rounded - value) >= -ROUNDING * Math.abs(value)) return String(rounded);
  const last = 10 ** (Math.floor(Math.log10(Math.abs(rounded))) - 3);
  return String(Number((rounded + sense * last).toPrecision(4)));
}

/** A part of one as the command takes it, in percent.
 *  @param digits  how the number is rounded */
export function partText(part: number, digits: (value: number) => string = fourDigits): string {
  return `${digits(100 * part)} %`;
}

/** A time in the unit in which it is at least 1, as the command takes it.
 *  @param digits  how the number is rounded */
export function timeText(seconds: number, digits: (value: number) => string = fourDigits): string {
  const [size, unit] = TIMES.find(([least]) => seconds >= least * (1 - ROUNDING)) ?? TIMES[TIMES.length - 1];
  return `${digits(seconds * size ** -1)} ${unit}`;
}

const TIMES = [
  [1, "s"],
  [1e-3, "ms"],
  [1e-6, "us"],
  [1e-9, "ns"],
] as const;

/** A length in the unit in which it is at least 1. */
export function lengthText(metres: number): string {
  const [size, unit] =
    LENGTHS.find(([least]) => metres >= least * (1 - ROUNDING)) ?? LENGTHS[LENGTHS.length - 1];
  return `${fourDigits(metres * size ** -1)} ${unit}`;
}

const LENGTHS = [
  [1, "m"],
  [1e-3, "mm"],
  [1e-6, "um"],
] as const;

/** A number of frames, in whole ones where a part of one does not matter. */
export function framesText(frames: number): string {
  return frames >= 10 ? String(Math.round(frames)) : fourDigits(frames);
}

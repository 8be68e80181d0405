const units = [
  { name: "s", size: 1 },
  { name: "ms", size: 1e-3 },
  { name: "us", size: 1e-6 },
  { name: "ns", size: 1e-9 },
];

/** A length of time with three significant digits, in the largest unit in which it is at least 1.
 *  @param seconds  > 0 */
export function durationText(seconds: number): string {
  const rounded = Number(seconds.toPrecision(3));
  const unit = units.find(({ size }) => rounded >= size) ?? units[units.length - 1];
  return `${Number((seconds / unit.size).toPrecision(3))} ${unit.name}`;
}

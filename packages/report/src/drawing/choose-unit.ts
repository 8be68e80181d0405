/** A unit and how much of the SI unit it is. */
export interface Unit {
  readonly name: string;
  readonly size: number;
}

const PREFIXES: readonly Unit[] = [
  { name: "", size: 1 },
  { name: "m", size: 1e-3 },
  { name: "µ", size: 1e-6 },
  { name: "n", size: 1e-9 },
];

/** The largest of the unit, its thousandth, millionth and milliardth in which the span is at least 1, so that a
 *  scale of that span has short numbers.
 *  @param span  in the SI unit, >= 0
 *  @param symbol  of the SI unit, "s" or "m"
 */
export function chooseUnit(span: number, symbol: "s" | "m"): Unit {
  const prefix = PREFIXES.find(({ size }) => span >= size * (1 - 1e-9)) ?? PREFIXES[PREFIXES.length - 1];
  return { name: prefix.name + symbol, size: prefix.size };
}

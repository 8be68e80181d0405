/** Median; NaN of nothing, and where a value is NaN. Found by partitioning (Hoare, Commun. ACM 4 (1961) 321; citation from
 *  memory), in a time in proportion to the number of values. */
export function median(values: ArrayLike<number>): number {
  const count = values.length;
  const rest = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    rest[k] = values[k];
    if (Number.isNaN(rest[k])) return Number.NaN;
  }
  if (count === 0) return Number.NaN;
  const middle = count >> 1;
  const upper = select(rest, middle);
  if (count % 2) return upper;
  let lower = rest[0];
  for (let k = 1; k < middle; k++) if (rest[k] > lower) lower = rest[k];
  return (lower + upper) / 2;
}

/** The value that stands at `place` when they are sorted; puts it there, none larger before it, none smaller behind. */
function select(values: Float64Array, place: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = middleOf(values[low], values[(low + high) >> 1], values[high]);
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i <= j) {
        const value = values[i];
        values[i++] = values[j];
        values[j--] = value;
      }
    }
    if (place <= j) high = j;
    else if (place >= i) low = i;
    else break;
  }
  return values[place];
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

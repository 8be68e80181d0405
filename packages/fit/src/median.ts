const PARTS = 256;
/** The parts reach so many times as far from the least value as the mean does: beyond are a fourth of the values at most. */
const REACH = 4;
const counts = new Int32Array(PARTS);

/** Median; NaN of nothing, and where a value is NaN. The values are counted in equal parts of their range, and those of the part
 *  that holds the median are partitioned (Hoare, Commun. ACM 4 (1961) 321; citation from memory): a time in proportion to
 *  their number, and few branches that a processor cannot foresee. */
export function median(values: ArrayLike<number>): number {
  const all = values instanceof Float64Array ? values : new Float64Array(values);
  let least = Number.POSITIVE_INFINITY;
  let sum = 0;
  for (let k = 0; k < all.length; k++) {
    if (all[k] < least) least = all[k];
    sum += all[k];
  }
  const place = all.length >> 1;
  const perUnit = (PARTS - 1) / (REACH * (sum / all.length - least));
  if (!(perUnit > 0 && perUnit < Number.POSITIVE_INFINITY)) return ofUnusual(all, place);
  counts.fill(0);
  for (let k = 0; k < all.length; k++) counts[partOf(all[k], least, perUnit)]++;
  let part = 0;
  let before = 0;
  while (before + counts[part] <= place) before += counts[part++];
  const within = new Float64Array(counts[part]);
  for (let k = 0, n = 0; n < within.length; k++)
    if (partOf(all[k], least, perUnit) === part) within[n++] = all[k];
  const upper = select(within, place - before);
  if (all.length % 2) return upper;
  if (place > before) return (largestOf(within, place - before) + upper) / 2;
  const below = all.filter((value) => partOf(value, least, perUnit) < part);
  return (largestOf(below, below.length) + upper) / 2;
}

function partOf(value: number, least: number, perUnit: number): number {
  return Math.min((value - least) * perUnit, PARTS - 1) | 0;
}

/** Values that are all the same, or none, or have no finite mean. */
function ofUnusual(values: Float64Array, place: number): number {
  if (values.length === 0 || values.some(Number.isNaN)) return Number.NaN;
  const rest = values.slice();
  const upper = select(rest, place);
  return values.length % 2 ? upper : (largestOf(rest, place) + upper) / 2;
}

/** Of the first so many. */
function largestOf(values: Float64Array, count: number): number {
  let largest = values[0];
  for (let k = 1; k < count; k++) if (values[k] > largest) largest = values[k];
  return largest;
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

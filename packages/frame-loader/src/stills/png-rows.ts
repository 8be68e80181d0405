/** Rows of a PNG as they are stored: before each stands the filter that it went through. */
export interface FilteredRows {
  /** Row after row, `1 + rowBytes` bytes each. */
  readonly bytes: Uint8Array;
  readonly rowBytes: number;
  /** Bytes from a sample to the one left of it that filters take it from. */
  readonly pixelBytes: number;
}

const NONE = 0;
const SUB = 1;
const UP = 2;
const AVERAGE = 3;
const PAETH = 4;

/** Takes the filters off the rows `first` to `end` (exclusive), in place. No more rows above them are looked at than these
 *  build on.
 *  @throws RangeError on a filter that there is not
 *  @see W3C PNG specification, third edition, section 9 */
export function unfilterRows(
  { bytes, rowBytes, pixelBytes }: FilteredRows,
  first: number,
  end: number,
): void {
  const step = rowBytes + 1;
  let from = first;
  while (from > 0 && bytes[from * step] > SUB) from--;
  const above = new Uint8Array(rowBytes);
  for (let r = from; r < end; r++) {
    const row = bytes.subarray(r * step + 1, (r + 1) * step);
    const up = r === 0 ? above : bytes.subarray((r - 1) * step + 1, r * step);
    unfilter(bytes[r * step], row, up, pixelBytes);
    bytes[r * step] = NONE;
  }
}

function unfilter(filter: number, row: Uint8Array, up: Uint8Array, pixelBytes: number): void {
  if (filter === SUB) for (let k = pixelBytes; k < row.length; k++) row[k] += row[k - pixelBytes];
  else if (filter === UP) for (let k = 0; k < row.length; k++) row[k] += up[k];
  else if (filter === AVERAGE) addAverage(row, up, pixelBytes);
  else if (filter === PAETH) addPaeth(row, up, pixelBytes);
  else if (filter !== NONE) throw new RangeError(`filter must be 0 to 4, got ${filter}`);
}

function addAverage(row: Uint8Array, up: Uint8Array, pixelBytes: number): void {
  for (let k = 0; k < pixelBytes; k++) row[k] += up[k] >> 1;
  for (let k = pixelBytes; k < row.length; k++) row[k] += (row[k - pixelBytes] + up[k]) >> 1;
}

/** Adds whichever of left, above and above left is nearest to left + above − above left. */
function addPaeth(row: Uint8Array, up: Uint8Array, pixelBytes: number): void {
  for (let k = 0; k < pixelBytes; k++) row[k] += up[k];
  for (let k = pixelBytes; k < row.length; k++) {
    const a = row[k - pixelBytes];
    const b = up[k];
    const c = up[k - pixelBytes];
    const fromA = Math.abs(b - c);
    const fromB = Math.abs(a - c);
    const fromC = Math.abs(a + b - 2 * c);
    row[k] += fromA <= fromB && fromA <= fromC ? a : fromB <= fromC ? b : c;
  }
}

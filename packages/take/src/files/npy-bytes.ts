const PREFIX = "\x93NUMPY\x01\x00";
/** Prefix and header together fill a multiple of so many bytes. */
const ALIGNMENT = 64;

/** An array as NumPy saves it: version 1.0, float64, little-endian, C order.
 *  @param values  row-major
 *  @param shape  (rows, columns)
 *  @throws RangeError where there are not as many values as the shape says
 *  @see NumPy Enhancement Proposal 1, "A simple file format for NumPy arrays" (2007) */
export function npyBytes(values: Float64Array, [rows, columns]: readonly [number, number]): Uint8Array {
  if (values.length !== rows * columns)
    throw new RangeError(`values must hold rows x columns = ${rows * columns} values, got ${values.length}`);
  const fields = `{'descr': '<f8', 'fortran_order': False, 'shape': (${rows}, ${columns}), }`;
  const start = PREFIX.length + 2;
  // The header ends in a line feed, behind spaces.
  const end = Math.ceil((start + fields.length + 1) / ALIGNMENT) * ALIGNMENT;
  const bytes = new Uint8Array(end + 8 * values.length);
  const view = new DataView(bytes.buffer);
  bytes.set(Buffer.from(PREFIX, "latin1"));
  view.setUint16(PREFIX.length, end - start, true);
  bytes.set(Buffer.from(`${fields.padEnd(end - start - 1)}\n`, "latin1"), start);
  for (let k = 0; k < values.length; k++) view.setFloat64(end + 8 * k, values[k], true);
  return bytes;
}

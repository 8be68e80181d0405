/** Floating-point samples as an uncompressed TIFF of one strip, little-endian.
 *  @param samples  row-major, of colour red, green and blue interleaved
 *  @see TIFF revision 6.0 (1992), sections 2 to 6 and 19 (sample format) */
export function floatTiff(
  samples: Float32Array,
  { rows, columns, colour }: { readonly rows: number; readonly columns: number; readonly colour: boolean },
): Buffer {
  const channels = colour ? 3 : 1;
  // Bits and format of every channel stand behind the directory where they do not fit into an entry.
  const bitsAt = 8 + 2 + 12 * ENTRIES + 4;
  const formatsAt = bitsAt + 2 * channels;
  const stripAt = Math.ceil((formatsAt + 2 * channels) / 4) * 4;
  const file = Buffer.alloc(stripAt + 4 * samples.length);
  file.write("II", 0, "latin1");
  file.writeUInt16LE(42, 2);
  file.writeUInt32LE(8, 4);
  file.writeUInt16LE(ENTRIES, 8);
  for (let channel = 0; channel < channels; channel++) {
    file.writeUInt16LE(32, bitsAt + 2 * channel);
    file.writeUInt16LE(3, formatsAt + 2 * channel);
  }
  let at = 10;
  const entry = (tag: number, type: typeof SHORT | typeof LONG, count: number, value: number) => {
    file.writeUInt16LE(tag, at);
    file.writeUInt16LE(type, at + 2);
    file.writeUInt32LE(count, at + 4);
    file.writeUInt32LE(value, at + 8);
    at += 12;
  };
  entry(256, LONG, 1, columns);
  entry(257, LONG, 1, rows);
  entry(258, SHORT, channels, colour ? bitsAt : 32);
  entry(259, SHORT, 1, 1); // not compressed
  entry(262, SHORT, 1, colour ? 2 : 1); // RGB, or black is zero
  entry(273, LONG, 1, stripAt);
  entry(277, SHORT, 1, channels);
  entry(278, LONG, 1, rows);
  entry(279, LONG, 1, 4 * samples.length);
  entry(284, SHORT, 1, 1); // channels interleaved
  entry(339, SHORT, channels, colour ? formatsAt : 3);
  for (let i = 0; i < samples.length; i++) file.writeFloatLE(samples[i], stripAt + 4 * i);
  return file;
}

const ENTRIES = 11;
const SHORT = 3;
const LONG = 4;

import type { Container } from "../places/container.js";
import { croppedColumns, swapBytes } from "../places/plain-frames.js";
import type { PositionedFile } from "../places/positioned-file.js";
import type { TiffDirectory } from "../places/tiff-directory.js";
import type { TiffForm } from "../places/tiff-numbers.js";
import { corrupt } from "../samples/frame-faults.js";
import { type Samples, typedSamples } from "../samples/frame-of.js";
import type { FrameWarning, Region } from "../types.js";
import { decompress } from "./tiff-decompress.js";
import { tiffPages } from "./tiff-pages.js";

/** Beyond twice what a strip or tile gives, no coding of it takes more bytes. */
const MOST_OVERHEAD = 65_536;

/** A multi-page TIFF or BigTIFF. Of uncompressed pages only the rows of the region are read, of the others only the
 *  strips or tiles that hold them.
 *  @throws FrameLoadError `corrupt-frame`, `unsupported-frame`, `mixed-frames` */
export async function openTiff(file: PositionedFile, form: TiffForm): Promise<Container> {
  const pages = await tiffPages(file, form);
  const { rows, columns, bitDepth, channels, pixelSamples, chunkRows, chunkColumns, compression } =
    pages.first;
  const pixelBytes = (bitDepth / 8) * pixelSamples;
  const warnings: FrameWarning[] = pages.isShort
    ? [
        {
          code: "truncated",
          message: `${file.name} is cut short: ${pages.count === 1 ? "one page is there as a whole and is" : `${pages.count} pages are there as a whole and are`} used. Copy or export it again if the event is missing`,
        },
      ]
    : [];
  return {
    kind: { rows, columns, bitDepth, colour: channels === 3 },
    count: pages.count,
    warnings,
    readSamples: async (index, region) => readRegion(file, await pages.page(index), form, region, index),
    readingBytes: (region) =>
      compression === "none"
        ? region.rows * columns * pixelBytes
        : (region.rows + 2 * chunkRows) * (columns + chunkColumns) * pixelBytes,
    isDecoded: compression !== "none",
    checkUnchanged: () => file.checkUnchanged(),
    close: () => file.close(),
  };
}

/** Samples of a part of a page, channels interleaved. */
async function readRegion(
  file: PositionedFile,
  page: TiffDirectory,
  form: TiffForm,
  region: Region,
  index: number,
): Promise<Samples> {
  const { columns, bitDepth, channels, isPlanar, isInverted, chunkColumns } = page;
  const planes = isPlanar ? channels : 1;
  const read = page.compression === "none" && chunkColumns === columns ? plainStrips : pieces;
  let result: Samples;
  if (planes === 1) result = withChannels(await read(file, page, form, region, 0, index), page);
  else {
    const parts: Samples[] = [];
    for (let plane = 0; plane < planes; plane++)
      parts.push(await read(file, page, form, region, plane, index));
    result = interleaved(parts);
  }
  if (isInverted) for (let k = 0; k < result.length; k++) result[k] = 2 ** bitDepth - 1 - result[k];
  return result;
}

/** The rows of a region from uncompressed strips. Strips that lie one behind the other are read at once, and of them
 *  only these rows. */
async function plainStrips(
  file: PositionedFile,
  page: TiffDirectory,
  { bigEndian }: TiffForm,
  region: Region,
  plane: number,
): Promise<Samples> {
  const { rows, columns, bitDepth, chunkRows, offsets } = page;
  const perPixel = page.isPlanar ? 1 : page.pixelSamples;
  const rowBytes = columns * perPixel * (bitDepth / 8);
  const firstOfPlane = plane * Math.ceil(rows / chunkRows);
  const runs: { readonly at: number; length: number }[] = [];
  const end = region.row + region.rows;
  for (let down = Math.floor(region.row / chunkRows); down * chunkRows < end; down++) {
    const top = down * chunkRows;
    const from = Math.max(region.row, top);
    const length = (Math.min(end, top + chunkRows) - from) * rowBytes;
    const at = offsets[firstOfPlane + down] + (from - top) * rowBytes;
    const last = runs.at(-1);
    if (last && last.at + last.length === at) last.length += length;
    else runs.push({ at, length });
  }
  const parts: Buffer[] = [];
  for (const { at, length } of runs) parts.push(await file.read(at, length));
  const bytes = parts.length === 1 ? parts[0] : Buffer.concat(parts);
  if (bigEndian) swapBytes(bytes, bitDepth);
  return croppedColumns(typedSamples(bytes, bitDepth), region, columns, perPixel);
}

/** The samples of a region from the tiles or compressed strips that it touches. */
async function pieces(
  file: PositionedFile,
  page: TiffDirectory,
  form: TiffForm,
  region: Region,
  plane: number,
  index: number,
): Promise<Samples> {
  const { rows, columns, bitDepth, chunkRows, chunkColumns } = page;
  const perPixel = page.isPlanar ? 1 : page.pixelSamples;
  const across = Math.ceil(columns / chunkColumns);
  const firstOfPlane = plane * Math.ceil(rows / chunkRows) * across;
  const [endRow, endColumn] = [region.row + region.rows, region.column + region.columns];
  const result = typedSamples(
    Buffer.allocUnsafeSlow(region.rows * region.columns * perPixel * (bitDepth / 8)),
    bitDepth,
  );
  for (let down = Math.floor(region.row / chunkRows); down * chunkRows < endRow; down++)
    for (let right = Math.floor(region.column / chunkColumns); right * chunkColumns < endColumn; right++) {
      const [top, left] = [down * chunkRows, right * chunkColumns];
      const [from, to] = [Math.max(region.row, top), Math.min(endRow, top + chunkRows)];
      const [begin, end] = [Math.max(region.column, left), Math.min(endColumn, left + chunkColumns)];
      const chunk = firstOfPlane + down * across + right;
      const samples = await pieceRows(file, page, form, chunk, [from - top, to - top], index);
      for (let r = from; r < to; r++) {
        const source = ((r - from) * chunkColumns + begin - left) * perPixel;
        const target = ((r - region.row) * region.columns + begin - region.column) * perPixel;
        result.set(samples.subarray(source, source + (end - begin) * perPixel), target);
      }
    }
  return result;
}

/** Whole rows of one strip or tile, `from` to `to` (exclusive). */
async function pieceRows(
  file: PositionedFile,
  page: TiffDirectory,
  { bigEndian }: TiffForm,
  chunk: number,
  [from, to]: readonly [number, number],
  index: number,
): Promise<Samples> {
  const { bitDepth, compression, isDifferenced, chunkRows, chunkColumns, offsets, byteCounts } = page;
  const perPixel = page.isPlanar ? 1 : page.pixelSamples;
  const rowBytes = chunkColumns * perPixel * (bitDepth / 8);
  let bytes: Buffer;
  if (compression === "none") {
    bytes = await file.read(offsets[chunk] + from * rowBytes, (to - from) * rowBytes);
  } else {
    const whole = chunkRows * rowBytes;
    const stored = await file.read(offsets[chunk], Math.min(byteCounts[chunk], 2 * whole + MOST_OVERHEAD));
    const first = decompress(stored, compression, to * rowBytes, whole);
    if (!first)
      throw corrupt(
        file.name,
        `is damaged in page ${index}: a strip or tile does not give its samples`,
        "export it again",
      );
    bytes = first.subarray(from * rowBytes);
  }
  if (bigEndian) swapBytes(bytes, bitDepth);
  const samples = typedSamples(bytes, bitDepth);
  if (isDifferenced) undoDifferences(samples, chunkColumns, perPixel);
  return samples;
}

/** Pixels of the channels alone: an index becomes its colour, and transparency is left out. */
function withChannels(samples: Samples, { channels, pixelSamples, palette }: TiffDirectory): Samples {
  if (pixelSamples === channels) return samples;
  const pixels = samples.length / pixelSamples;
  const result = new (samples.constructor as new (length: number) => Samples)(pixels * channels);
  for (let pixel = 0; pixel < pixels; pixel++)
    for (let channel = 0; channel < channels; channel++)
      result[pixel * channels + channel] = palette
        ? palette[samples[pixel] * channels + channel]
        : samples[pixel * pixelSamples + channel];
  return result;
}

/** Planes of channels as pixels. */
function interleaved(planes: readonly Samples[]): Samples {
  const [first] = planes;
  const { length } = first;
  const result = new (first.constructor as new (length: number) => Samples)(length * planes.length);
  for (const [plane, samples] of planes.entries())
    for (let k = 0; k < length; k++) result[k * planes.length + plane] = samples[k];
  return result;
}

/** Rows of differences become rows of samples, in place, modulo their range.
 *  @see TIFF 6.0, section 14 */
function undoDifferences(samples: Samples, columns: number, perPixel: number): void {
  const row = columns * perPixel;
  for (let start = 0; start < samples.length; start += row)
    for (let k = perPixel; k < row; k++) samples[start + k] += samples[start + k - perPixel];
}

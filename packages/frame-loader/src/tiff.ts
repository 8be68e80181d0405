import type { Container } from "./container.js";
import { type Samples, typedSamples } from "./frame-of.js";
import { swapBytes } from "./plain-frames.js";
import type { PositionedFile } from "./positioned-file.js";
import { corrupt } from "./read-header.js";
import { decompress } from "./tiff-decompress.js";
import type { TiffDirectory, TiffForm } from "./tiff-directory.js";
import { tiffPages } from "./tiff-pages.js";
import type { FrameWarning, Region } from "./types.js";
import { checkSize } from "./whole-frames.js";

/** A multi-page TIFF or BigTIFF. Of uncompressed pages only the rows of the region are read, of the others only the
 *  strips or tiles that hold them.
 *  @throws FrameLoadError `corrupt-frame`, `unsupported-frame`, `mixed-frames` */
export async function openTiff(file: PositionedFile, form: TiffForm): Promise<Container> {
  const pages = await tiffPages(file, form);
  const { rows, columns, bitDepth, channels, chunkRows, chunkColumns, compression } = pages.first;
  checkSize(file.name, rows, columns);
  const pixelBytes = (bitDepth / 8) * channels;
  const warnings: FrameWarning[] = pages.isShort
    ? [
        {
          code: "truncated",
          message: `${file.name} is cut short: ${pages.count} pages are there as a whole and are used. Copy or export it again if the event is missing`,
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
  const { columns, bitDepth, channels, isPlanar, chunkRows, chunkColumns, offsets } = page;
  const sampleBytes = bitDepth / 8;
  const planes = isPlanar ? channels : 1;
  const perPixel = channels / planes;
  const chunksAcross = Math.ceil(columns / chunkColumns);
  const perPlane = offsets.length / planes;
  const result = typedSamples(
    Buffer.allocUnsafeSlow(region.rows * region.columns * channels * sampleBytes),
    bitDepth,
  );
  const firstDown = Math.floor(region.row / chunkRows);
  const lastDown = Math.floor((region.row + region.rows - 1) / chunkRows);
  const firstAcross = Math.floor(region.column / chunkColumns);
  const lastAcross = Math.floor((region.column + region.columns - 1) / chunkColumns);
  for (let plane = 0; plane < planes; plane++)
    for (let down = firstDown; down <= lastDown; down++)
      for (let across = firstAcross; across <= lastAcross; across++) {
        const top = down * chunkRows;
        const left = across * chunkColumns;
        const from = Math.max(region.row, top);
        const to = Math.min(region.row + region.rows, top + chunkRows);
        const chunk = plane * perPlane + down * chunksAcross + across;
        const samples = await readRows(file, page, form, chunk, [from - top, to - top], index);
        const begin = Math.max(region.column, left);
        const end = Math.min(region.column + region.columns, left + chunkColumns);
        for (let r = from; r < to; r++) {
          const source = ((r - from) * chunkColumns + begin - left) * perPixel;
          const target = ((r - region.row) * region.columns + begin - region.column) * channels;
          const count = (end - begin) * perPixel;
          if (planes === 1) result.set(samples.subarray(source, source + count), target);
          else for (let k = 0; k < count; k++) result[target + k * channels + plane] = samples[source + k];
        }
      }
  return result;
}

/** Whole rows of one strip or tile, `from` to `to` (exclusive). */
async function readRows(
  file: PositionedFile,
  {
    columns,
    rows,
    bitDepth,
    channels,
    isPlanar,
    compression,
    isDifferenced,
    chunkRows,
    chunkColumns,
    offsets,
    byteCounts,
  }: TiffDirectory,
  { bigEndian }: TiffForm,
  chunk: number,
  [from, to]: readonly [number, number],
  index: number,
): Promise<Samples> {
  const perPixel = isPlanar ? 1 : channels;
  const rowBytes = chunkColumns * perPixel * (bitDepth / 8);
  // The last strip ends with the picture; tiles are padded.
  const isTile = chunkColumns !== columns || chunkRows > rows;
  const perColumn = Math.ceil(rows / chunkRows);
  const down = Math.floor(chunk / Math.ceil(columns / chunkColumns)) % perColumn;
  const held = isTile ? chunkRows : Math.min(chunkRows, rows - down * chunkRows);
  let bytes: Buffer;
  if (compression === "none" && !isDifferenced) {
    if (byteCounts[chunk] < to * rowBytes) throw short(file, index);
    bytes = await file.read(offsets[chunk] + from * rowBytes, (to - from) * rowBytes);
  } else {
    const stored = await file.read(offsets[chunk], byteCounts[chunk]);
    const whole = decompress(stored, compression, Math.min(held, to) * rowBytes);
    if (!whole) throw short(file, index);
    bytes = whole.subarray(from * rowBytes, to * rowBytes);
  }
  const own = Buffer.from(bytes);
  if (bigEndian) swapBytes(own, bitDepth);
  const samples = typedSamples(own, bitDepth);
  if (isDifferenced) undoDifferences(samples, chunkColumns, perPixel);
  return samples;
}

/** Rows of differences become rows of samples, in place, modulo their range.
 *  @see TIFF 6.0, section 14 */
function undoDifferences(samples: Samples, columns: number, perPixel: number): void {
  const row = columns * perPixel;
  for (let start = 0; start < samples.length; start += row)
    for (let k = perPixel; k < row; k++) samples[start + k] += samples[start + k - perPixel];
}

function short(file: PositionedFile, index: number): Error {
  return corrupt(
    file.name,
    `is damaged in page ${index}: a strip or tile does not give its samples`,
    "export it again",
  );
}

import { FrameLoadError } from "../frame-load-error.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { liesInOnePiece, readDirectory, type TiffDirectory } from "../places/tiff-directory.js";
import type { TiffForm } from "../places/tiff-numbers.js";
import { corrupt } from "../samples/frame-faults.js";

/** The pages of a stack. */
export interface TiffPages {
  readonly first: TiffDirectory;
  /** Whole ones. */
  readonly count: number;
  /** Whether the file ends before its pages do. */
  readonly isShort: boolean;
  /** @throws FrameLoadError `corrupt-frame`, `mixed-frames` */
  page(index: number): Promise<TiffDirectory>;
}

/** Pages that are found by walking from one to the next, at most; more would be no take but a loop or a trap. */
const MOST_WALKED = 1 << 20;
/** Bytes read for a page beyond those of its directory, at most. */
const MOST_EXTRA = 4096;
/** Pages at even distances that the last is looked for among, from the end of the file. */
const LAST_TRIED = 3;

/** Of a description, bytes looked at, at most. */
const MOST_TEXT = 4096;

/** Finds the pages of a stack. Uncompressed ones lie at even distances as a rule: then the first three and the last
 *  tell where all are, and each is held against that when it is read. Otherwise they are walked, from one to the next. Smaller
 *  copies and masks among them are passed over.
 *  @throws FrameLoadError `corrupt-frame`, `unsupported-frame`, `mixed-frames` */
export async function tiffPages(file: PositionedFile, form: TiffForm): Promise<TiffPages> {
  const first = await readDirectory(file, form, form.firstAt);
  if (first.isCompanion) return walkedPages(file, form);
  if (!isWhole(file, first)) throw corrupt(file.name, "does not hold one whole page", "export it again");
  return (
    (await piledPages(file, first)) ?? (await evenPages(file, form, first)) ?? (await walkedPages(file, form))
  );
}

/** Pictures one behind the other, of which only the first has a directory: stacks beyond the 4 GB of a classic TIFF are
 *  written so, and their description says how many there are. */
async function piledPages(file: PositionedFile, first: TiffDirectory): Promise<TiffPages | null> {
  const { rows, columns, bitDepth, pixelSamples, text, nextAt } = first;
  if (nextAt !== 0 || !text || !liesInOnePiece(first)) return null;
  const description = await file.readUpTo(text.at, Math.min(text.length, MOST_TEXT));
  const promised = piledCount(description.toString("latin1"), rows * columns * pixelSamples);
  if (!(promised > 1)) return null;
  const pageBytes = rows * columns * pixelSamples * (bitDepth / 8);
  const there = Math.floor((file.size - first.offsets[0]) / pageBytes);
  return {
    first,
    count: Math.min(promised, there),
    isShort: there < promised,
    page: async (index) => ({
      ...first,
      offsets: first.offsets.map((offset) => offset + index * pageBytes),
    }),
  };
}

/** A program with its version, and in a line of its own how many images there are. */
const IMAGES_STATED = /^[^\n=]+=\d[^\n]*\n(?:[^\n]*\n)*?images=(\d+)\s*(?:\n|$)/;

/** How many pictures a description promises behind one directory: as programs state it in lines, or as the shape of all samples
 *  together where it says that directories were left out (common practice, no source).
 *  @param pageSamples  of one picture
 *  @returns NaN where it does not say so */
function piledCount(description: string, pageSamples: number): number {
  const stated = IMAGES_STATED.exec(description);
  if (stated) return Number(stated[1]);
  if (!/"truncated":\s*true/.test(description)) return Number.NaN;
  const shape = /"shape":\s*\[([\d\s,]+)\]/.exec(description)?.[1].split(",").map(Number) ?? [];
  return Math.floor(shape.reduce((product, size) => product * size, 1) / pageSamples);
}

async function evenPages(
  file: PositionedFile,
  form: TiffForm,
  first: TiffDirectory,
): Promise<TiffPages | null> {
  const step = first.nextAt - form.firstAt;
  if (first.nextAt === 0 || step <= 0 || first.compression !== "none") return null;
  const at = (index: number) => form.firstAt + index * step;
  const apart = await pageAt(file, form, first.nextAt);
  const dataStep = apart ? apart.offsets[0] - first.offsets[0] : 0;
  const read = async (index: number): Promise<TiffDirectory | null> => {
    const page = await pageAt(file, form, at(index));
    const fits =
      page !== null &&
      isAlike(page, first) &&
      page.compression === "none" &&
      page.offsets.length === first.offsets.length &&
      page.offsets.every((offset, k) => offset === first.offsets[k] + index * dataStep) &&
      (page.nextAt === at(index + 1) || page.nextAt === 0) &&
      isWhole(file, page);
    return fits ? page : null;
  };
  if (dataStep <= 0 || !(await read(1))) return null;
  const most = Math.floor((file.size - form.firstAt) / step) + 1;
  for (let last = most; last >= Math.max(1, most - LAST_TRIED); last--) {
    const page = await read(last);
    if (!page) continue;
    // A page that is there and does not fit is no end: the pages have to be walked.
    const behind = page.nextAt === 0 ? null : await pageAt(file, form, page.nextAt);
    if (behind && isWhole(file, behind)) return null;
    return {
      first,
      count: last + 1,
      isShort: page.nextAt !== 0,
      async page(index) {
        const found = await read(index);
        if (!found || (found.nextAt === 0) !== (index === last && page.nextAt === 0))
          throw corrupt(
            file.name,
            `has no page ${index} where its first pages and its last say that it lies, at byte ${at(index)}`,
            "it is damaged there, or its pages are not alike; export it again",
          );
        return found;
      },
    };
  }
  return null;
}

async function walkedPages(file: PositionedFile, form: TiffForm): Promise<TiffPages> {
  let first: TiffDirectory | null = null;
  const places: number[] = [];
  const seen = new Set<number>();
  let isShort = false;
  const readBefore = file.bytesRead;
  for (let at = form.firstAt; at !== 0; ) {
    if (seen.has(at))
      throw corrupt(file.name, `leads from page ${seen.size - 1} back to one before`, "export it again");
    if (seen.size >= MOST_WALKED)
      throw corrupt(file.name, `lists more than ${MOST_WALKED} pages`, "export it in parts");
    // Directories that lie over each other could have any number of bytes read.
    if (file.bytesRead - readBefore > 2 * file.size + seen.size * MOST_EXTRA)
      throw corrupt(file.name, "has directories of pages that lie over each other", "export it again");
    const page = await readDirectory(file, form, at).catch((error: unknown) => {
      if (error instanceof FrameLoadError && error.code === "corrupt-frame") return null;
      throw error;
    });
    if (!page || !(page.isCompanion || isWhole(file, page))) {
      isShort = true;
      break;
    }
    if (!page.isCompanion) {
      first ??= page;
      if (!isAlike(page, first)) throw mixed(file, seen.size);
      places.push(at);
    }
    seen.add(at);
    at = page.nextAt;
  }
  if (!first)
    throw corrupt(file.name, "holds no whole page but smaller copies or masks of others", "export it again");
  return {
    first,
    count: places.length,
    isShort,
    async page(index) {
      const page = await readDirectory(file, form, places[index]);
      if (page.isCompanion || !isAlike(page, first)) throw mixed(file, index);
      return page;
    },
  };
}

/** Pictures of one size and kind. */
function isAlike(one: TiffDirectory, other: TiffDirectory): boolean {
  const kind = ({ rows, columns, bitDepth, channels }: TiffDirectory) =>
    [rows, columns, bitDepth, channels].join();
  return kind(one) === kind(other);
}

function isWhole(file: PositionedFile, { offsets, byteCounts }: TiffDirectory): boolean {
  return offsets.every((offset, k) => offset + byteCounts[k] <= file.size);
}

function mixed(file: PositionedFile, index: number): FrameLoadError {
  return new FrameLoadError(
    "mixed-frames",
    `page ${index} of ${file.name} is of another size or kind than its first: export all pages alike, or take the odd ones out`,
    { file: file.name },
  );
}

/** @returns null where there is no page that can be read */
async function pageAt(file: PositionedFile, form: TiffForm, at: number): Promise<TiffDirectory | null> {
  try {
    const page = await readDirectory(file, form, at);
    return page.isCompanion ? null : page;
  } catch (error) {
    if (error instanceof FrameLoadError && error.code !== "unreadable-frame") return null;
    throw error;
  }
}

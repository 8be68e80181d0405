import { FrameLoadError } from "../frame-load-error.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { readDirectory, type TiffDirectory, type TiffForm } from "../places/tiff-directory.js";
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

/** Finds the pages of a stack. Uncompressed ones lie at even distances as a rule: then the first three and the last
 *  tell where all are, and each is held against that when it is read. Otherwise they are walked, from one to the next.
 *  @throws FrameLoadError `corrupt-frame`, `unsupported-frame`, `mixed-frames` */
export async function tiffPages(file: PositionedFile, form: TiffForm): Promise<TiffPages> {
  const first = await readDirectory(file, form, form.firstAt);
  if (!isWhole(file, first)) throw corrupt(file.name, "does not hold one whole page", "export it again");
  return (await evenPages(file, form, first)) ?? (await walkedPages(file, form, first));
}

async function evenPages(
  file: PositionedFile,
  form: TiffForm,
  first: TiffDirectory,
): Promise<TiffPages | null> {
  const step = first.nextAt - form.firstAt;
  if (first.nextAt === 0 || step <= 0 || first.compression !== "none") return null;
  const at = (index: number) => form.firstAt + index * step;
  const apart = await orNull(readDirectory(file, form, first.nextAt));
  const dataStep = apart ? apart.offsets[0] - first.offsets[0] : 0;
  const read = async (index: number): Promise<TiffDirectory | null> => {
    const page = await orNull(readDirectory(file, form, at(index)));
    const fits =
      page !== null &&
      isAlike(page, first) &&
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
    const behind = page.nextAt === 0 ? null : await orNull(readDirectory(file, form, page.nextAt));
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

async function walkedPages(file: PositionedFile, form: TiffForm, first: TiffDirectory): Promise<TiffPages> {
  const places = [form.firstAt];
  const seen = new Set(places);
  let isShort = false;
  const readBefore = file.bytesRead;
  for (let page = first; page.nextAt !== 0; ) {
    const at = page.nextAt;
    if (seen.has(at))
      throw corrupt(file.name, `leads from page ${places.length - 1} back to one before`, "export it again");
    if (places.length >= MOST_WALKED)
      throw corrupt(file.name, `lists more than ${MOST_WALKED} pages`, "export it in parts");
    // Directories that lie over each other could have any number of bytes read.
    if (file.bytesRead - readBefore > 2 * file.size + places.length * MOST_EXTRA)
      throw corrupt(file.name, "has directories of pages that lie over each other", "export it again");
    const next = await readDirectory(file, form, at).catch((error: unknown) => {
      if (error instanceof FrameLoadError && error.code === "corrupt-frame") return null;
      throw error;
    });
    if (!next || !isWhole(file, next)) {
      isShort = true;
      break;
    }
    if (!isAlike(next, first)) throw mixed(file, places.length);
    seen.add(at);
    places.push(at);
    page = next;
  }
  return { first, count: places.length, isShort, page: (index) => readDirectory(file, form, places[index]) };
}

/** Pictures of one size and kind. */
function isAlike(one: TiffDirectory, other: TiffDirectory): boolean {
  const kind = ({ rows, columns, bitDepth, channels, isInverted, compression, offsets }: TiffDirectory) =>
    [
      rows,
      columns,
      bitDepth,
      channels,
      isInverted,
      compression === "none",
      compression === "none" ? offsets.length : 0,
    ].join();
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

async function orNull<T>(work: Promise<T>): Promise<T | null> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof FrameLoadError && error.code !== "unreadable-frame") return null;
    throw error;
  }
}

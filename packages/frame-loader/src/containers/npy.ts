import { FrameLoadError } from "../frame-load-error.js";
import type { Container } from "../places/container.js";
import { plainFrames } from "../places/plain-frames.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { wholeFrames } from "../places/whole-frames.js";
import { corrupt } from "../samples/frame-faults.js";

const MAGIC = Buffer.from("\x93NUMPY", "latin1");
/** A header that describes three numbers and a type has no need of more, bytes. */
const LONGEST_HEADER = 1 << 20;
const BIT_DEPTHS: Readonly<Record<string, 8 | 16 | 32>> = { u1: 8, u2: 16, f4: 32 };

export function isNpy(head: Buffer): boolean {
  return head.subarray(0, MAGIC.length).equals(MAGIC);
}

/** An array of shape (frames, rows, columns) as NumPy saves it, versions 1 to 3, `u1`, `u2` or `f4` in C order.
 *  @throws FrameLoadError `unsupported-frame` for other arrays, `corrupt-frame` for a header that is none
 *  @see NumPy Enhancement Proposal 1, "A simple file format for NumPy arrays" (2007), and numpy.lib.format for version 3 */
export async function openNpy(file: PositionedFile): Promise<Container> {
  const { text, dataAt } = await headerOf(file);
  const descr = /['"]descr['"]\s*:\s*['"]([<>|=]?)([a-zA-Z]\d+)['"]/.exec(text);
  const order = /['"]fortran_order['"]\s*:\s*(True|False)/.exec(text);
  const shape = /['"]shape['"]\s*:\s*\(([\dL\s,]*)\)/.exec(text);
  if (!order || !shape || !/['"]descr['"]/.test(text))
    throw corrupt(
      file.name,
      "has no NumPy header that names descr, fortran_order and shape",
      "save it again",
    );
  const bitDepth = BIT_DEPTHS[descr?.[2] ?? ""];
  if (!descr || bitDepth === undefined)
    throw unsupported(
      file.name,
      `holds samples of another type than u1, u2 or f4 (${/['"]descr['"]\s*:\s*([^,}]*)/.exec(text)?.[1].trim()})`,
      "convert the array, for example with astype('u2')",
    );
  if (order[1] === "True")
    throw unsupported(
      file.name,
      "is in Fortran order, in which a frame does not lie in one piece",
      "save numpy.ascontiguousarray of it",
    );
  const sizes = shape[1]
    .split(",")
    .flatMap((part) => (part.trim() === "" ? [] : [Number(part.replace("L", ""))]));
  if (sizes.length !== 3)
    throw unsupported(
      file.name,
      `has the shape (${sizes.join(", ")})`,
      "frames are wanted as (frames, rows, columns)",
    );
  const [frames, rows, columns] = sizes;
  const kind = { rows, columns, bitDepth, colour: false };
  const { count, frameBytes, warnings } = wholeFrames(file, kind, dataAt, frames);
  return plainFrames(file, {
    kind,
    count,
    warnings,
    bigEndian: descr[1] === ">",
    placeOf: (index) => dataAt + index * frameBytes,
  });
}

async function headerOf(file: PositionedFile): Promise<{ readonly text: string; readonly dataAt: number }> {
  const head = await file.readUpTo(0, 12);
  const version = head[6];
  if (head.length < 12)
    throw corrupt(
      file.name,
      `ends within its NumPy header, after ${head.length} bytes`,
      "copy or save it again",
    );
  if (!(version >= 1 && version <= 3))
    throw corrupt(file.name, `has a NumPy header of unknown version ${version}`, "save it again");
  const start = version === 1 ? 10 : 12;
  const length = version === 1 ? head.readUInt16LE(8) : head.readUInt32LE(8);
  if (length > LONGEST_HEADER || start + length > file.size)
    throw corrupt(file.name, `has a NumPy header of ${length} bytes, longer than the file`, "save it again");
  const text = (await file.read(start, length)).toString(version === 3 ? "utf8" : "latin1");
  return { text, dataAt: start + length };
}

function unsupported(name: string, what: string, advice: string): FrameLoadError {
  return new FrameLoadError("unsupported-frame", `${name} ${what}: ${advice}`, { file: name });
}

import type { PositionedFile } from "../places/positioned-file.js";

/** Arrangement of a clip, by the name that ffmpeg has for it. */
export type ClipForm = "mov" | "avi" | "matroska";

/** Boxes that a QuickTime or MP4 file may begin with. */
const FIRST_BOXES = new Set(["ftyp", "moov", "mdat", "wide"]);
const EBML = Buffer.of(0x1a, 0x45, 0xdf, 0xa3);
const SEGMENT = Buffer.of(0x18, 0x53, 0x80, 0x67);
/** Outermost boxes that are looked at: a whole clip has a few, one in fragments two for each. */
const MOST_BOXES = 10_000;

/** @param head  the first bytes of a file, 12 or more
 *  @returns null where they are not those of a clip
 *  @see ISO/IEC 14496-12, 4.2; RFC 8794, 11.1; the AVI RIFF file reference of its makers */
export function clipForm(head: Buffer): ClipForm | null {
  const text = (from: number) => head.subarray(from, from + 4).toString("latin1");
  if (FIRST_BOXES.has(text(4))) return "mov";
  if (text(0) === "RIFF" && text(8) === "AVI ") return "avi";
  return head.subarray(0, 4).equals(EBML) ? "matroska" : null;
}

/** Whether the file ends before its outermost parts do. Parts that state no length are taken as whole. */
export async function endsEarly(file: PositionedFile, form: ClipForm): Promise<boolean> {
  if (form === "matroska") return endOfSegment(await file.readUpTo(0, 4096)) > file.size;
  let at = 0;
  for (let box = 0; box < MOST_BOXES && at < file.size; box++) {
    const head = await file.readUpTo(at, 16);
    if (head.length < 8) return true;
    const length = form === "avi" ? evenRiff(head) : boxLength(head);
    if (length === 0) return false;
    at += length;
  }
  return at > file.size;
}

/** @see the AVI RIFF file reference: a chunk is padded to an even length, which its length does not count */
function evenRiff(head: Buffer): number {
  const length = head.readUInt32LE(4);
  return head.subarray(0, 4).toString("latin1") !== "RIFF" || length === 0 ? 0 : 8 + length;
}

/** @returns 0 where it reaches to the end of the file
 *  @see ISO/IEC 14496-12, 4.2 */
function boxLength(head: Buffer): number {
  const length = head.readUInt32BE(0);
  if (length === 1) return head.length < 16 ? Number.POSITIVE_INFINITY : Number(head.readBigUInt64BE(8));
  return length < 8 ? 0 : length;
}

/** Byte behind the segment; 0 where it states no length.
 *  @see RFC 8794, 4 (numbers of variable length) and 6.2 (elements of unknown size) */
function endOfSegment(head: Buffer): number {
  const header = variableNumber(head, EBML.length);
  if (!header?.value) return 0;
  const at = header.end + header.value;
  if (!head.subarray(at, at + SEGMENT.length).equals(SEGMENT)) return 0;
  const length = variableNumber(head, at + SEGMENT.length);
  return length?.value ? length.end + length.value : 0;
}

/** @returns value null where all its bits are set; null where it is not there as a whole */
function variableNumber(
  bytes: Buffer,
  at: number,
): { readonly value: number | null; readonly end: number } | null {
  const length = Math.clz32(bytes[at] ?? 0) - 23;
  if (length > 8 || at + length > bytes.length) return null;
  let value = BigInt(bytes[at]) & BigInt(0xff >> length);
  for (let k = 1; k < length; k++) value = (value << 8n) | BigInt(bytes[at + k]);
  const isUnknown = value === (1n << BigInt(7 * length)) - 1n;
  return { value: isUnknown ? null : Number(value), end: at + length };
}

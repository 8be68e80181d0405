import { FrameLoadError } from "./frame-load-error.js";
import { listSome } from "./list-some.js";
import { readAhead } from "./read-ahead.js";
import { type FileStamp, type FrameKind, readHeader } from "./read-header.js";
import type { FrameWarning } from "./types.js";

/** Headers read at the same time. */
const PARALLEL_HEADERS = 16;

/** Reads the headers of all stills and checks that they are alike.
 *  @param files  in order of frame number, at least one
 *  @returns what they all are, and the state of every file
 *  @throws FrameLoadError `mixed-frames`, or as `readHeader`, for the first file in order */
export async function checkHeaders(
  folder: string,
  files: readonly string[],
  signal: AbortSignal | undefined,
): Promise<{ kind: FrameKind; stamps: FileStamp[]; warnings: FrameWarning[] }> {
  const kinds: FrameKind[] = [];
  const stamps: FileStamp[] = [];
  const paged: string[] = [];
  const load = (index: number) => readHeader(folder, files[index]);
  for await (const header of readAhead({
    start: 0,
    end: files.length,
    depth: PARALLEL_HEADERS,
    load,
    signal,
  })) {
    if (header.pages > 1) paged.push(`${files[kinds.length]} with ${header.pages}`);
    kinds.push(header);
    stamps.push(header.stamp);
  }
  const kind = commonKind(files, kinds);
  const warnings: FrameWarning[] = [];
  if (paged.length > 0) {
    warnings.push({
      code: "extra-pages",
      message: `${paged.length} of ${files.length} still(s) hold more than one picture, and only the first is read (${listSome(paged)}): if the others are frames too, export every frame as a still of its own`,
    });
  }
  return { kind, stamps, warnings };
}

function commonKind(files: readonly string[], kinds: readonly FrameKind[]): FrameKind {
  const counts = new Map<string, number>();
  for (const kind of kinds) counts.set(describe(kind), (counts.get(describe(kind)) ?? 0) + 1);
  const [usual] = [...counts].sort((a, b) => b[1] - a[1])[0];
  const usualIndex = kinds.findIndex((kind) => describe(kind) === usual);
  const oddIndex = kinds.findIndex((kind) => describe(kind) !== usual);
  if (oddIndex >= 0) {
    throw new FrameLoadError(
      "mixed-frames",
      `${files[oddIndex]} is ${describe(kinds[oddIndex])}, but ${counts.get(usual)} of ${files.length} stills are ${usual} (as ${files[usualIndex]}): export all stills alike, or take the odd ones out`,
      { file: files[oddIndex], otherFile: files[usualIndex] },
    );
  }
  return kinds[0];
}

function describe({ rows, columns, bitDepth, colour }: FrameKind): string {
  return `${columns} x ${rows} pixels, ${colour ? "colour" : "grey"}, ${bitDepth} bits`;
}

import { FrameLoadError } from "../frame-load-error.js";
import { listSome } from "../list-some.js";
import type { FrameHeader, FrameKind } from "../samples/frame-header.js";
import type { FrameWarning } from "../types.js";

/** Checks that the stills of a sequence are alike.
 *  @param files  in order of frame number, at least one
 *  @param headers  one for each file
 *  @returns what they all are
 *  @throws FrameLoadError `mixed-frames`, for the first file in order */
export function checkHeaders(
  files: readonly string[],
  headers: readonly FrameHeader[],
): { kind: FrameKind; warnings: FrameWarning[] } {
  const kind = commonKind(files, headers);
  const paged = files.filter((_, i) => headers[i].pages > 1);
  if (paged.length === 0) return { kind, warnings: [] };
  const some = listSome(paged.map((file) => `${file} with ${headers[files.indexOf(file)].pages}`));
  return {
    kind,
    warnings: [
      {
        code: "extra-pages",
        message: `${paged.length} of ${files.length} still(s) hold more than one picture, and only the first is read (${some}): if the others are frames too, ${files.length === 1 ? `give ${files[0]} itself as the take, not its folder` : "export every frame as a still of its own"}`,
      },
    ],
  };
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

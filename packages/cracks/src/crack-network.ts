import { changePicture } from "./change-picture.js";
import { lineContrast } from "./line-contrast.js";
import { markLines } from "./mark-lines.js";
import { refineCourse } from "./refine-course.js";
import { smoothCourse } from "./smooth-course.js";
import { thin } from "./thin.js";
import type { CrackLine, CrackNetwork, CrackSource, Point } from "./types.js";
import { widthAtHalfDepth } from "./width-at-half-depth.js";
import { withoutSpurs } from "./without-spurs.js";

/** Wider than this at half of its depth, px, or so wide that it takes up a larger share of the picture, what changed is no line. */
const WIDEST = 10;
const LARGEST_SHARE = 0.2;
/** By so much the light of the whole picture may differ between the first frames and the last. */
const STEADY = 0.05;
/** More than this, over what is marked, that changed in the other sense: a cloud, or a picture that moved. */
const MOST_AGAINST = 0.1;
/** Shorter lines say nothing of a speed, px; and they are this many times as long as they are wide. */
const SHORTEST = 12;
const SLENDER = 2;

/** The thin lines that are in the last frames and not in the first, as a graph of smooth courses: cracks and their branches.
 *  @param range  places of frames in the sequence, end exclusive
 *  @returns null where what changed is not made of thin lines of one sense, or the light of the whole picture is another
 *  @throws the signal's reason when aborted */
export async function crackNetwork(
  source: CrackSource,
  range: { readonly start: number; readonly end: number },
  signal?: AbortSignal,
): Promise<CrackNetwork | null> {
  const { rows, columns } = source;
  const change = await changePicture(source, range, signal);
  // A front that crossed all of the picture is no light, and what it leaves behind it may be lines.
  if (Math.abs(change.light - 1) > STEADY) return null;
  const { picture, pixels, against, polarity } = markLines(change);
  if (pixels === 0) return null;
  if (against > MOST_AGAINST * pixels) return null;
  const skeleton = thin(picture, rows, columns);
  const length = skeleton.reduce((sum, value) => sum + value, 0);
  const core = widthAtHalfDepth(change, skeleton);
  if (!(length > 0 && core <= WIDEST) || core * length > LARGEST_SHARE * picture.length) return null;
  const width = pixels / length;
  const { nodes, edges } = withoutSpurs(skeleton, source, Math.max(SHORTEST, SLENDER * width));
  const lines = edges
    .map(({ from, to, pixels }): CrackLine => {
      const inner = pixels.map((at): Point => [at % columns, Math.floor(at / columns)]);
      const rough = smoothCourse([nodes[from].at, ...inner, nodes[to].at]);
      const points = refineCourse(change, rough, Math.ceil(width / 2), polarity);
      return { from, to, points, length: points.length - 1 };
    })
    // Of one that runs along the border nothing may be left in the picture.
    .filter(({ length }) => length > 0);
  if (lines.length === 0) return null;
  const contrast = await lineContrast(source, range, change, lines, signal);
  return { lines, nodes: nodes.map(({ at }) => at), width, polarity, contrast, last: change.last };
}

import { CalibrationError } from "../calibration-error.js";
import { median } from "../numbers/median.js";
import type { Field } from "../pictures/field.js";
import { fitHomography } from "../plane/fit-homography.js";
import { mapPoint } from "../plane/matrix3.js";
import type { Point } from "../types.js";
import { dotCentres } from "./dot-centres.js";
import type { FoundGrid, GridPattern } from "./find-grid.js";
import { MOST_BLUR } from "./most-blur.js";
import type { RefinedDot } from "./refine-dot.js";
import { type NoisyField, type RefinedOf, reachOf, refinePoint } from "./refine-point.js";
import { separateDots } from "./separate-dots.js";
import { atFullSize } from "./strong-lattices.js";
import { type Surroundings, surroundingsOf } from "./surroundings.js";

/** Every point fitted at full size; those that were not seen are looked for where the others say.
 *  @param places  in the picture of which `scale` pixels make one, shape (along · across,), null where none was seen
 *  @returns null where some are not there
 *  @throws CalibrationError `grid-blurred`, `grid-cut-off` */
export function refineGrid(
  picture: NoisyField,
  pattern: GridPattern,
  plane: readonly Point[],
  places: readonly (Point | null)[],
  scale: number,
): FoundGrid | null {
  const { kind, along, across } = pattern;
  const starts = startsOf(plane, places, scale);
  const around = surroundingsOfAll(starts, pattern);
  const points =
    kind === "corners" ? allOf(picture, kind, starts, around) : refinedDots(picture, starts, around);
  if (!points || !areAllThere(points)) return null;
  const placed = points.map(({ place }) => place);
  const step = Math.min(...surroundingsOfAll(placed, pattern).flatMap(({ distances }) => distances));
  const blurPixels = median(points.map((point) => point.blurPixels));
  if (blurPixels > MOST_BLUR[kind] * step)
    throw new CalibrationError(
      "grid-blurred",
      `a grid of ${along} x ${across} ${kind} is there, but its edges are blurred over ${blurPixels.toFixed(1)} px (standard deviation) where its points stand ${step.toFixed(1)} px apart: focus the camera on it`,
    );
  return {
    points: kind === "dots" ? dotCentres(points as RefinedDot[], plane) : placed,
    plane,
    standardUncertaintyPixels: median(points.map((point) => point.standardUncertaintyPixels)),
    blurPixels,
  };
}

/** Light may fall to this share of the usual one of a grid; what stands out by less is noise. */
const LEAST_STEP = 0.1;

/** A fit to noise settles, too, where a point is covered. */
function areAllThere(points: readonly { readonly step: number }[]): boolean {
  const steps = points.map(({ step }) => Math.abs(step));
  return Math.min(...steps) > LEAST_STEP * median(steps);
}

/** Where every point is looked for at full size, px. */
function startsOf(plane: readonly Point[], places: readonly (Point | null)[], scale: number): Point[] {
  const starts = places.map((place) => place && atFullSize(place, scale));
  const known = starts.flatMap((pixel, n) => (pixel ? [{ pixel, plane: plane[n] }] : []));
  const { toPixels } = fitHomography(known, { pointingPixels: 1 });
  return starts.map((start, n) => start ?? mapPoint(toPixels, plane[n]));
}

function surroundingsOfAll(points: readonly Point[], { along, across }: GridPattern): Surroundings[] {
  return points.map((_, n) => {
    const [i, j] = [n % along, Math.floor(n / along)];
    const isInside = (di: number, dj: number) =>
      i + di >= 0 && i + di < along && j + dj >= 0 && j + dj < across;
    return surroundingsOf((di, dj) => (isInside(di, dj) ? points[n + di + dj * along] : null));
  });
}

/** @returns null as soon as one is not there */
function allOf<Kind extends keyof RefinedOf>(
  picture: NoisyField,
  kind: Kind,
  starts: readonly Point[],
  around: readonly Surroundings[],
): RefinedOf[Kind][] | null {
  const points: RefinedOf[Kind][] = [];
  for (const [n, start] of starts.entries()) {
    const point = refinePoint(picture, kind, start, around[n]);
    if (!point) return null;
    points.push(point);
  }
  return points;
}

function refinedDots(
  picture: NoisyField,
  starts: readonly Point[],
  around: readonly Surroundings[],
): RefinedDot[] | null {
  const { field } = picture;
  const dots = allOf(picture, "dots", starts, around);
  const apart =
    dots &&
    separateDots(
      field,
      dots,
      around.map((one) => reachOf("dots", one)),
    );
  const cut = apart?.find(({ place, semiAxesPixels }) => !isInside(field, place, semiAxesPixels[0]));
  if (cut)
    throw new CalibrationError(
      "grid-cut-off",
      `a dot is cut off at the edge of the picture, at ${cut.place.map((v) => v.toFixed(0)).join(",")} px: move the whole grid into the picture`,
    );
  return apart;
}

function isInside({ rows, columns }: Field, [x, y]: Point, radius: number): boolean {
  return Math.min(x, y, columns - 1 - x, rows - 1 - y) >= radius;
}

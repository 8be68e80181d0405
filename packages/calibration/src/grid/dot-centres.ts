import { median } from "../numbers/median.js";
import { fitHomography } from "../plane/fit-homography.js";
import { mapPoint, matrixOf, multiply } from "../plane/matrix3.js";
import type { Matrix3, Point } from "../types.js";
import type { RefinedDot } from "./refine-dot.js";

/** Where the centres of the dots are seen. The picture of a circle is an ellipse whose centre is not the picture of the
 *  circle's centre where the plane is seen obliquely: the difference follows from the map and the size of the dots.
 *  @param plane  centres in the plane, m
 *  @see Heikkilä, IEEE Trans. PAMI 22 (2000) 1066, on the projection of circles (citation from memory) */
export function dotCentres(dots: readonly RefinedDot[], plane: readonly Point[]): Point[] {
  let centres: Point[] = dots.map(({ place }) => place);
  for (let round = 0; round < 2; round++) {
    const { toPixels, map } = fitHomography(
      centres.map((pixel, n) => ({ pixel, plane: plane[n] })),
      { pointingPixels: 0 },
    );
    const radius = median(dots.map((dot, n) => radiusOf(dot, map.matrix, centres[n])));
    centres = dots.map(({ place }, n) => {
      const seen = ellipseCentre(toPixels, plane[n], radius);
      const centre = mapPoint(toPixels, plane[n]);
      return [place[0] - seen[0] + centre[0], place[1] - seen[1] + centre[1]];
    });
  }
  return centres;
}

/** Centre of the picture of a circle: the pole of the line at infinity. */
function ellipseCentre(toPixels: Matrix3, [x, y]: Point, radius: number): Point {
  const dual: Matrix3 = [
    [radius * radius - x * x, -x * y, -x],
    [-x * y, radius * radius - y * y, -y],
    [-x, -y, -1],
  ];
  const seen = multiply(multiply(toPixels, dual), transpose(toPixels));
  return [seen[0][2] / seen[2][2], seen[1][2] / seen[2][2]];
}

/** Radius of a dot in the plane, from the area of its ellipse. */
function radiusOf({ semiAxesPixels: [a, b] }: RefinedDot, toMetres: Matrix3, [x, y]: Point): number {
  const at = (dx: number, dy: number) => mapPoint(toMetres, [x + dx, y + dy]);
  const [right, left, down, up] = [at(0.5, 0), at(-0.5, 0), at(0, 0.5), at(0, -0.5)];
  const area = (right[0] - left[0]) * (down[1] - up[1]) - (right[1] - left[1]) * (down[0] - up[0]);
  return Math.sqrt(a * b * Math.abs(area));
}

function transpose(m: Matrix3): Matrix3 {
  return matrixOf((i, j) => m[j][i]);
}

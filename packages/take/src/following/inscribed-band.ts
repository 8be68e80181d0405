type Point = readonly [x: number, y: number];

/** Part of the shorter side that a band is wide, at least. */
const NARROWEST = 0.15;
/** Widths tried. */
const STEPS = 40;

/** The band through the middle of the picture along a direction that tells most of a speed: all of it inside the picture, as long and as
 *  wide as goes together. A slope's variance falls with the cube of the length and with the width.
 *  @param angle  of the path, radians, from x towards y
 *  @returns null in a picture too small for one */
export function inscribedBand(
  { rows, columns }: { readonly rows: number; readonly columns: number },
  angle: number,
): { readonly path: readonly [Point, Point]; readonly width: number } | null {
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  const [halfColumns, halfRows] = [(columns - 1) / 2, (rows - 1) / 2];
  const shorter = Math.min(rows, columns);
  const bands = Array.from({ length: STEPS }, (_, k) => {
    const width = Math.floor(shorter * (NARROWEST + ((1 - NARROWEST) * k) / (STEPS - 1)));
    const across = (width - 1) / 2;
    const half = Math.min(
      reach(halfColumns - across * Math.abs(dy), Math.abs(dx)),
      reach(halfRows - across * Math.abs(dx), Math.abs(dy)),
    );
    return { width, half };
  }).filter(({ width, half }) => width >= 3 && half >= 4);
  if (bands.length === 0) return null;
  const { width, half } = bands.reduce((best, next) =>
    next.width * next.half ** 3 > best.width * best.half ** 3 ? next : best,
  );
  const end = (sign: number): Point => [halfColumns + sign * half * dx, halfRows + sign * half * dy];
  return { path: [end(-1), end(1)], width };
}

/** How far one gets at a slope until the room is used up. */
function reach(room: number, slope: number): number {
  if (room < 0) return Number.NEGATIVE_INFINITY;
  return slope === 0 ? Number.POSITIVE_INFINITY : room / slope;
}

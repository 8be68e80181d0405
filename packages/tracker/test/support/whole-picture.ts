/** A path along the middle of a picture from its left edge to its right, as wide as the picture is high. */
export function wholePicture(rows: number, columns: number) {
  const middle = (rows - 1) / 2;
  return {
    path: [
      [0, middle],
      [columns - 1, middle],
    ],
    width: rows,
  } as const;
}

/** The blurred edge of a front: 1 far behind it, 0 far ahead. */
export const edge = (behindPixels: number) => 1 / (1 + Math.exp(-1.7 * behindPixels));

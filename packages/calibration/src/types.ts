/** A point in a picture, px: x is the column, y the row, whole numbers are pixel centres; or in a plane, m. */
export type Point = readonly [x: number, y: number];

/** One picture, row-major, origin top left. */
export interface Picture {
  /** shape (rows · columns,) */
  readonly data: ArrayLike<number>;
  readonly rows: number;
  readonly columns: number;
}

/** A value with what is known of its uncertainty. */
export interface Known {
  readonly value: number;
  /** One standard uncertainty, unit of the value; absent: not stated, 0: exact on purpose. */
  readonly standardUncertainty?: number;
}

/** Row-major 3 x 3. */
export type Matrix3 = readonly [
  readonly [number, number, number],
  readonly [number, number, number],
  readonly [number, number, number],
];

/** A plane-to-plane map: H (x, y, 1)ᵀ, divided by its last component. */
export interface PlaneMap {
  /** Pixels to metres, up to a factor > 0: the last component is positive where the plane is seen. With a lens:
   *  undistorted pixels. */
  readonly matrix: Matrix3;
  /** Of the nine entries in row order, shape (9, 9), rank 8: what pointing leaves open. */
  readonly covariance: readonly (readonly number[])[];
  /** With a lens: how the entries move with its k1 and k2, since the same points fix the map, shape (9, 2). */
  readonly lensSlopes?: readonly (readonly number[])[];
}

/** Radial distortion about a centre: an undistorted distance ρ from it is seen at ρ (1 + k1 (ρ/R)² + k2 (ρ/R)⁴).
 *  @see Brown, Photogrammetric Engineering 37 (1971) 855 (the radial terms; citation from memory) */
export interface Lens {
  readonly k1: number;
  readonly k2: number;
  /** R, px: the unit of length of k1 and k2. */
  readonly radiusPixels: number;
  readonly centrePixels: Point;
  /** Of k1 and k2, shape (2, 2). */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]];
  /** Undistorted distance from the centre up to which points were seen, px; the polynomial is a guess beyond. */
  readonly reachPixels: number;
}

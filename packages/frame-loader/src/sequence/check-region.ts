import type { Region } from "../types.js";

/** Holds a region against the size of the picture.
 *  @returns the region, or the whole picture where none is given
 *  @throws RangeError where it is not made of whole pixels or reaches out of the picture */
export function checkRegion(region: Region | undefined, rows: number, columns: number): Region {
  if (region === undefined) return { row: 0, column: 0, rows, columns };
  checkSpan("row", region.row, "rows", region.rows, rows);
  checkSpan("column", region.column, "columns", region.columns, columns);
  return region;
}

function checkSpan(startName: string, start: number, sizeName: string, size: number, limit: number): void {
  if (!Number.isInteger(start) || start < 0) {
    throw new RangeError(`region.${startName} must be a whole number >= 0, got ${start}`);
  }
  if (!Number.isInteger(size) || size < 1) {
    throw new RangeError(`region.${sizeName} must be a whole number >= 1, got ${size}`);
  }
  if (start + size > limit) {
    throw new RangeError(
      `region.${startName} + region.${sizeName} must be <= ${limit}, the ${sizeName} of the picture, got ${start} + ${size}`,
    );
  }
}

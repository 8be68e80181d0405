/** Thins what is marked to lines one pixel wide that keep its connections.
 *  @param marked  1 where marked, else 0; row-major, shape [rows, columns]
 *  @see T. Y. Zhang and C. Y. Suen, "A fast parallel algorithm for thinning digital patterns", Communications of the ACM 27
 *    (1984) 236-239 (from memory) */
export function thin(marked: Uint8Array, rows: number, columns: number): Uint8Array {
  const out = marked.slice();
  // What lies on the border has no neighbours all around.
  for (let c = 0; c < columns; c++) out[c] = out[(rows - 1) * columns + c] = 0;
  for (let r = 0; r < rows; r++) out[r * columns] = out[r * columns + columns - 1] = 0;
  let places = Array.from(out.keys()).filter((at) => out[at] === 1);
  for (let changed = true; changed; ) {
    changed = false;
    for (const pass of [0, 1]) {
      const removed = places.filter((at) => isRemovable(out, columns, at, pass));
      for (const at of removed) out[at] = 0;
      if (removed.length > 0) changed = true;
    }
    places = places.filter((at) => out[at] === 1);
  }
  return out;
}

function isRemovable(picture: Uint8Array, columns: number, at: number, pass: number): boolean {
  const [n, ne, e, se, s, sw, w, nw] = ring(columns).map((step) => picture[at + step]);
  const around = [n, ne, e, se, s, sw, w, nw];
  const count = around.reduce((sum, value) => sum + value, 0);
  if (count < 2 || count > 6) return false;
  const rises = around.filter((value, k) => value === 0 && around[(k + 1) % 8] === 1).length;
  if (rises !== 1) return false;
  return pass === 0 ? n * e * s === 0 && e * s * w === 0 : n * e * w === 0 && n * s * w === 0;
}

/** Steps to the neighbours of a pixel, clockwise from the one above. */
export function ring(columns: number): readonly number[] {
  return [-columns, -columns + 1, 1, columns + 1, columns, columns - 1, -1, -columns - 1];
}

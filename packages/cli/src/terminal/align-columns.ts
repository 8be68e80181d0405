/** Rows of texts as lines with columns of equal width, two spaces between them; nothing behind the last text.
 *  @param rows  shape (R, C) */
export function alignColumns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) =>
    row
      .map((text, column) => text.padEnd(widths[column]))
      .join("  ")
      .trimEnd(),
  );
}

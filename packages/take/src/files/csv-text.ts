/** A table as text, comma-separated with CRLF (RFC 4180). */
export function csvText(header: string, rows: readonly (readonly (string | number | boolean)[])[]): string {
  return `${[header, ...rows.map((row) => row.join(","))].join("\r\n")}\r\n`;
}

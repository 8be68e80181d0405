const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** What a PNG needs to be shown; everything else (texts, times, profiles, places) is left out. */
const SHOWN = new Set(["IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "sRGB", "pHYs"]);

/** A PNG without its metadata.
 *  @throws RangeError where it is none
 *  @see PNG specification (W3C, third edition), 5.3 */
export function withoutMetadata(png: Uint8Array): Uint8Array {
  if (!SIGNATURE.every((byte, k) => png[k] === byte))
    throw new RangeError("the picture must be a PNG file, got something else");
  const view = new DataView(png.buffer, png.byteOffset, png.byteLength);
  const kept = [png.subarray(0, 8)];
  for (let at = 8; at + 12 <= png.length; ) {
    const length = view.getUint32(at);
    const end = at + 12 + length;
    if (end > png.length) throw new RangeError("the picture must be a whole PNG file, got a part of one");
    const type = String.fromCharCode(...png.subarray(at + 4, at + 8));
    if (SHOWN.has(type)) kept.push(png.subarray(at, end));
    at = end;
  }
  return Buffer.concat(kept);
}

/** A PNG as the address of a picture in a page. */
export function pngAddress(png: Uint8Array): string {
  return `data:image/png;base64,${Buffer.from(withoutMetadata(png)).toString("base64")}`;
}

/** An SVG as the address of a picture in a page, where it runs nothing and loads nothing. */
export function svgAddress(svg: string): string {
  return `data:image/svg+xml;base64,${Buffer.from(svg, "utf8").toString("base64")}`;
}

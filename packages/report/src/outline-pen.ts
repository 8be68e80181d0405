import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Font } from "opentype.js";
import { svgElement, svgNumber } from "./svg.js";
import { INK, type TextPen } from "./text-pen.js";

let loading: Promise<TextPen> | undefined;

/** Text as outlines of a font that comes with the package: a machine without any font still shows it.
 *
 *  Letters are set one by one with pair kerning and no shaping: the opentype.js layout of 1.3.5 throws on lookups this
 *  font holds. Scripts that need shaping come out as single letters.
 */
export function loadOutlinePen(): Promise<TextPen> {
  loading ??= load();
  return loading;
}

async function load(): Promise<TextPen> {
  const { default: opentype } = await import("opentype.js");
  // By way of this package, whose font it is: the command is bundled.
  const here = createRequire(import.meta.url).resolve("@frontpace/report/package.json");
  const file = createRequire(here).resolve("@fontsource/dejavu-sans/files/dejavu-sans-latin-400-normal.woff");
  const bytes = await readFile(file);
  const font = opentype.parse(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  );
  return {
    width: (text, size) => setLetters(font, text, size, 0, 0).width,
    draw: (text, { x, y, size, anchor = "start", turnDegrees = 0, fill = INK }) => {
      const width = anchor === "start" ? 0 : setLetters(font, text, size, 0, 0).width;
      const left = anchor === "start" ? x : anchor === "middle" ? x - width / 2 : x - width;
      return svgElement("path", {
        d: setLetters(font, text, size, left, y).outline,
        fill,
        transform: turnDegrees === 0 ? undefined : `rotate(${turnDegrees} ${svgNumber(x)} ${svgNumber(y)})`,
      });
    },
  };
}

function setLetters(font: Font, text: string, size: number, left: number, baseLine: number) {
  const perUnit = size / font.unitsPerEm;
  let x = left;
  let outline = "";
  let previous: ReturnType<Font["charToGlyph"]> | undefined;
  for (const character of text) {
    const glyph = font.charToGlyph(character);
    if (previous !== undefined) x += font.getKerningValue(previous, glyph) * perUnit;
    outline += glyph.getPath(x, baseLine, size).toPathData(2);
    x += (glyph.advanceWidth ?? 0) * perUnit;
    previous = glyph;
  }
  return { width: x - left, outline };
}

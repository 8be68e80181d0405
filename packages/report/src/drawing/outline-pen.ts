import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Font, Path } from "opentype.js";
import { svgElement, svgNumber } from "./svg.js";
import { INK, type TextPen } from "./text-pen.js";
import { sfntOf } from "./woff.js";

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
  // Letters are worked out when they are set: a picture has few of them.
  const font = opentype.parse(sfntOf(await readFile(file)), { lowMemory: true });
  const widthOf = (text: string, size: number) => {
    let width = 0;
    for (const { glyph, kerning } of lettersOf(font, text))
      width += (kerning + (glyph.advanceWidth ?? 0)) * (size / font.unitsPerEm);
    return width;
  };
  return {
    width: widthOf,
    draw: (text, { x, y, size, anchor = "start", turnDegrees = 0, fill = INK }) => {
      const width = anchor === "start" ? 0 : widthOf(text, size);
      const left = anchor === "start" ? x : anchor === "middle" ? x - width / 2 : x - width;
      return svgElement("path", {
        d: outlineOf(font, text, size, left, y),
        fill,
        transform: turnDegrees === 0 ? undefined : `rotate(${turnDegrees} ${svgNumber(x)} ${svgNumber(y)})`,
      });
    },
  };
}

/** The letters of a text, and by how much each moves towards the one before, in units of the font. */
function* lettersOf(font: Font, text: string) {
  let previous: ReturnType<Font["charToGlyph"]> | undefined;
  for (const character of text) {
    const glyph = font.charToGlyph(character);
    yield { glyph, kerning: previous === undefined ? 0 : font.getKerningValue(previous, glyph) };
    previous = glyph;
  }
}

function outlineOf(font: Font, text: string, size: number, left: number, baseLine: number): string {
  const perUnit = size / font.unitsPerEm;
  let x = left;
  let outline = "";
  for (const { glyph, kerning } of lettersOf(font, text)) {
    x += kerning * perUnit;
    outline += pathData(glyph.getPath(x, baseLine, size));
    x += (glyph.advanceWidth ?? 0) * perUnit;
  }
  return outline;
}

/** An outline as SVG has it. */
function pathData({ commands }: Path): string {
  let data = "";
  for (const command of commands) {
    data += command.type;
    if (command.type === "Z") continue;
    if (command.type === "C" || command.type === "Q") data += `${place(command.x1, command.y1)} `;
    if (command.type === "C") data += `${place(command.x2, command.y2)} `;
    data += place(command.x, command.y);
  }
  return data;
}

function place(x: number, y: number): string {
  return `${svgNumber(x)} ${svgNumber(y)}`;
}

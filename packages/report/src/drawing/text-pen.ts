/** Where and how a piece of text stands. */
interface TextPlace {
  /** Reference point, px of the picture; `y` is the base line. */
  readonly x: number;
  readonly y: number;
  /** Size of the letters, px. */
  readonly size: number;
  /** Which part of the text stands at `x`; default "start". */
  readonly anchor?: "start" | "middle" | "end";
  /** Turned about the reference point, degrees clockwise; default 0. */
  readonly turnDegrees?: number;
  /** Colour; default near black. */
  readonly fill?: string;
}

/** Writes text into a picture: as letters where the reader has fonts, as outlines where it may not. */
export interface TextPen {
  /** Width of the text at that size, px. */
  width(text: string, size: number): number;
  /** The text as an SVG element. */
  draw(text: string, place: TextPlace): string;
}

export const INK = "#1c232b";

/** The text, or as much of its beginning as fits into the width with an ellipsis behind it. */
export function fitText(pen: TextPen, text: string, size: number, maximumWidth: number): string {
  if (pen.width(text, size) <= maximumWidth) return text;
  const characters = [...text];
  let fits = 0;
  let fails = characters.length;
  while (fails - fits > 1) {
    const middle = (fits + fails) >> 1;
    const width = pen.width(`${characters.slice(0, middle).join("")}…`, size);
    if (width <= maximumWidth) fits = middle;
    else fails = middle;
  }
  return `${characters.slice(0, fits).join("")}…`;
}

import { svgElement } from "./svg.js";

/** Colours of the hatching where there is no data, RGB, ground and stripe: tinted, so that no grey level looks like it. */
export const EMPTY_COLOURS = [
  [244, 234, 210],
  [205, 184, 134],
] as const;

const PERIOD = 8;
const WIDTH = 2;

/** Colour of a pixel of a picture where there is no data. */
export function emptyColour(x: number, y: number): readonly [number, number, number] {
  return EMPTY_COLOURS[(x + y) % PERIOD < WIDTH ? 1 : 0];
}

/** The hatching as a symbol of the legend. */
export function emptySymbol(): string {
  const [ground, stripe] = EMPTY_COLOURS.map((rgb) => `rgb(${rgb.join(",")})`);
  return (
    svgElement("rect", { x: -15, y: -6, width: 30, height: 12, fill: ground }) +
    svgElement("path", { d: "M-13 6l12 -12M-3 6l12 -12M7 6l8 -8", stroke: stripe, "stroke-width": 2 })
  );
}

/// <reference lib="dom" />
import type * as PlotModule from "@observablehq/plot";
import { html, type Markup, raw } from "./html.js";

export type PlotLibrary = typeof PlotModule;

/** Widths at which a chart is drawn, px: for a page of usual width and print, and for a narrow screen. */
const WIDE = 840;
export const NARROW = 340;

/** A chart as Observable Plot takes it, for a width. */
export type ChartOptions = (width: number, plot: PlotLibrary) => PlotModule.PlotOptions;

/** Draws a chart as SVG, once for wide and once for narrow pages, of which the page shows one.
 *  @param alternative  what it shows, in words, for those who do not see it */
export async function chart(alternative: string, options: ChartOptions): Promise<Markup> {
  const { plot, document } = await library();
  const draw = (width: number) => {
    const { x, y, ...rest } = options(width, plot);
    const svg = plot.plot({
      document,
      width,
      marginLeft: 64,
      marginRight: 20,
      marginTop: 38,
      marginBottom: 52,
      className: "chart",
      style: { fontSize: "14px", fontFamily: "inherit", overflow: "visible" },
      x: { labelAnchor: "center", labelArrow: "none", labelOffset: 46, ...x },
      y: { labelArrow: "none", ...y },
      ...rest,
    });
    for (const element of svg.querySelectorAll("[aria-label]")) element.removeAttribute("aria-label");
    for (const element of svg.querySelectorAll("style")) element.remove();
    svg.setAttribute("aria-hidden", "true");
    return raw(svg.outerHTML);
  };
  return html`<div role="img" aria-label="${alternative}"><div class="wide">${draw(WIDE)}</div><div class="narrow">${draw(NARROW)}</div></div>`;
}

/** Loaded when a page is made, not before: library and document take as long to load as a short take to measure. */
async function library(): Promise<{ plot: PlotLibrary; document: Document }> {
  const [plot, { parseHTML }] = await Promise.all([import("@observablehq/plot"), import("linkedom")]);
  return { plot, document: parseHTML("<!doctype html><html><body></body></html>").document };
}

import type { ReportedResult } from "../words/reported-result.js";
import { figure, section } from "./figure.js";
import { html, type Markup } from "./html.js";
import type { ReportPictures } from "./page-input.js";
import { pngAddress, svgAddress } from "./picture-data.js";

/** Where in a long take the event was found. */
export function searchSection({ search }: ReportedResult, pictures: ReportPictures): Markup | null {
  const picture = pictures["search.svg"];
  if (!search || picture === undefined) return null;
  const words = `How much the picture changes along the ${search.frames} frames of the take, and where something happens; ${search.framesRead} of them were read.`;
  return section("search", "Where in the take", pictureFigure(svgAddress(picture), words));
}

/** The courses of cracks over the last frames. */
export function cracksSection({ branches }: ReportedResult, pictures: ReportPictures): Markup | null {
  const picture = pictures["cracks.png"];
  if (!branches || picture === undefined) return null;
  const count = branches.length === 1 ? "the crack" : `the ${branches.length} cracks`;
  return section(
    "cracks",
    "The courses of the cracks",
    pictureFigure(
      pngAddress(picture),
      `The last frames with the course of ${count}, numbered where each starts, an arrow head where it ends.`,
    ),
  );
}

/** The arrival map: isochrones, local speed and speed against direction. */
export function mapSection({ map, shape }: ReportedResult, pictures: ReportPictures): Markup | null {
  if (!map) return null;
  const { "isochrones.png": isochrones, "speed-map.png": speeds, "speed-rose.svg": rose } = pictures;
  const figures = [
    isochrones &&
      pictureFigure(
        pngAddress(isochrones),
        `Lines on which the front stood at the times written on them, over frame ${map.stillFrame}${shape?.name === "circle" ? "; the front is a circle about its origin" : ""}.`,
      ),
    rose &&
      pictureFigure(
        svgAddress(rose),
        "Speed against direction: a petal points where the front ran in the picture and is as long as the median speed in its sector.",
      ),
    speeds &&
      pictureFigure(
        pngAddress(speeds),
        "The local speed in colours; hatched where nothing can be said of it.",
      ),
  ].filter((one) => one !== undefined);
  if (figures.length === 0) return null;
  return section("map", "The front over the whole picture", html`${figures}`);
}

function pictureFigure(address: string, words: string): Markup {
  return figure(
    html`<div class="scroll" tabindex="0" role="region" aria-label="${`Picture: ${words}`}"><img src="${address}" alt="${words}"></div>`,
    words,
    "paper",
  );
}

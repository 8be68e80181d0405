import { roundPair, twoDigits } from "@frontpace/report/words";
import type { ScaleFile } from "@frontpace/take";
import { alignColumns } from "../terminal/align-columns.js";
import { wrapText } from "../terminal/wrap-text.js";

const LINE_WIDTH = 100;

/** A scale as lines for a person.
 *  @param files  paths written, as they are to be shown */
export function describeScale(scale: ScaleFile, files: readonly string[]): string[] {
  const { madeFrom, columns, rows } = scale;
  return [
    `read: ${madeFrom.stills.join(", ")}, ${columns} x ${rows} px`,
    foundText(scale),
    scaleText(scale),
    ...(scale.planeMap
      ? [`plane map: positions along a path become metres in the plane, whose scale varies over the picture`]
      : []),
    ...(scale.lens ? [lensText(scale.lens, madeFrom.lensPictures ?? 1)] : []),
    ...budgetLines(scale),
    "assumed:",
    ...scale.assumed.flatMap((text) => wrapText(`  ${text}`, LINE_WIDTH, "    ")),
    "",
    "written:",
    ...files.map((file) => `  ${file}`),
  ];
}

function foundText({ madeFrom }: ScaleFile): string {
  const { method, pointingPixels, residualPixels } = madeFrom;
  const each = `each coordinate known to ${twoDigits(pointingPixels)} px (k = 1)`;
  if (method === "lengths") return `lengths: ${madeFrom.scales.length}, ${each}`;
  const what =
    method === "points" ? "points marked" : method === "corners" ? "checkerboard found" : "dots found";
  return `${what}: ${each}; ${twoDigits(residualPixels ?? 0)} px (rms) from where the map puts them`;
}

/** A window has two figures, of which either may lack its uncertainty. */
const INPUTS = {
  "length standard": "length standard",
  depth: "+- of the distance, the offset or a figure of the window or medium",
} as const;

function scaleText({ metresPerPixel, metresPerPixelUncertainty: u, missing, planeMap }: ScaleFile): string {
  const where = planeMap ? " in the middle of the points" : "";
  const millimetres = 1e3 * metresPerPixel;
  if (u === null)
    return `scale: ${Number(millimetres.toPrecision(6))} mm a pixel${where}, without its uncertainty (not stated: ${missing.map((input) => INPUTS[input]).join(" and ")})`;
  const { value, halfWidth } = roundPair(millimetres, 1e3 * u);
  return `scale: ${value} mm +- ${halfWidth} mm a pixel (k = 1)${where}`;
}

function lensText(
  { k1, k2, radiusPixels, covariance }: NonNullable<ScaleFile["lens"]>,
  pictures: number,
): string {
  const first = roundPair(k1, Math.sqrt(covariance[0][0]));
  const second = roundPair(k2, Math.sqrt(covariance[1][1]));
  return `lens: k1 = ${first.value} (u = ${first.halfWidth}), k2 = ${second.value} (u = ${second.halfWidth}) for a radius of ${radiusPixels.toFixed(1)} px, from ${pictures} ${pictures === 1 ? "still" : "stills"}`;
}

function budgetLines({ budget, madeFrom, metresPerPixel }: ScaleFile): string[] {
  const rows = budget.map(({ source, type, relativeStandardUncertainty: u }) => [
    source,
    `${twoDigits(100 * u)} %`,
    type,
  ]);
  const { standardUncertainty, trials, agrees } = madeFrom.monteCarlo;
  const drawn = `${twoDigits((100 * standardUncertainty) / metresPerPixel)} %`;
  return [
    "where the uncertainty comes from (relative, k = 1):",
    ...alignColumns([["", "u", "type"], ...rows]).map((line) => `  ${line}`),
    `  Monte Carlo, ${trials} draws: ${drawn}, ${agrees ? "agrees" : "does not agree"} with the linear propagation`,
  ];
}

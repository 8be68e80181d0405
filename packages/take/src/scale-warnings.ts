import type { FinishedScale, LensFit } from "@frontpace/calibration";
import type { TakeWarning } from "./types.js";

export interface ScaleFacts {
  /** What each length says, where they differ by more than chance. */
  readonly disagreeing?:
    | readonly { readonly metresPerPixel: number; readonly standardUncertainty: number }[]
    | null;
  readonly isPointingAssumed: boolean;
  readonly monteCarlo: FinishedScale["monteCarlo"];
  /** Of the points of a grid from where the map puts them. */
  readonly residual?: {
    readonly rmsPixels: number;
    readonly expectedPixels: number;
    readonly hasLens: boolean;
  };
  readonly lens?: { readonly fit: LensFit; readonly columns: number; readonly rows: number };
}

/** Points of a grid are said not to fit where they stand so many times as far off as their own uncertainty explains. */
const MISFIT = 2;
/** What a grid reaches less of, from the middle to the corner of the picture, is said. */
const COVERED = 0.8;

/** What of a calibration could change what the operator does. */
export function scaleWarnings({
  disagreeing,
  isPointingAssumed,
  monteCarlo,
  residual,
  lens,
}: ScaleFacts): TakeWarning[] {
  const warnings: TakeWarning[] = [];
  const warn = (code: string, message: string) => warnings.push({ code, message });
  if (disagreeing) {
    const scales = disagreeing.map(
      ({ metresPerPixel, standardUncertainty }, k) =>
        `length ${k + 1}: ${micrometres(metresPerPixel)} (u = ${micrometres(standardUncertainty)})`,
    );
    warn(
      "lengths-disagree",
      `the lengths give scales that differ by more than their uncertainties (${scales.join(", ")}): is the plane seen obliquely, does the lens bend the picture, or is one of them wrong? Their spread is in the budget`,
    );
  }
  if (isPointingAssumed)
    warn(
      "pointing-assumed",
      "the points are taken to be marked to 0.5 px in each direction (one standard uncertainty): state it with --pointing",
    );
  if (!monteCarlo.agrees)
    warn(
      "linear-propagation-fails",
      "a Monte Carlo run does not agree with the linear propagation of the uncertainties: its larger figure is used. The points lie too close together for how well they are known",
    );
  if (residual && residual.rmsPixels > MISFIT * residual.expectedPixels)
    warn(
      "grid-misfit",
      `the points of the grid stand ${pixels(residual.rmsPixels)} px (rms) from where a flat, even grid would show them, and how well each is found explains ${pixels(residual.expectedPixels)} px: ${residual.hasLens ? "" : "find what the lens bends with --lens, "}focus on the whole grid, and fasten it to something flat`,
    );
  if (lens) {
    const { reachPixels, centrePixels } = lens.fit.lens;
    const corner = Math.hypot(
      Math.max(centrePixels[0], lens.columns - 1 - centrePixels[0]),
      Math.max(centrePixels[1], lens.rows - 1 - centrePixels[1]),
    );
    if (reachPixels < COVERED * corner)
      warn(
        "lens-part-seen",
        `the grid reaches to ${Math.round(reachPixels)} px from the middle of the picture, and its corners lie at ${Math.round(corner)} px: beyond, the distortion is a guess`,
      );
  }
  return warnings;
}

function pixels(value: number): string {
  return `${Number(value.toPrecision(2))}`;
}

function micrometres(metres: number): string {
  return `${Number((metres * 1e6).toPrecision(5))} um`;
}

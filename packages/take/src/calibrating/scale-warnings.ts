import type { FinishedScale, LensFit } from "@frontpace/calibration";
import type { TakeWarning } from "../types.js";

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
    const scales = disagreeing.map((scale, k) => `length ${k + 1}: ${perPixel(scale)}`);
    warn(
      "lengths-disagree",
      `the lengths give scales that differ by more than their uncertainties (${scales.join("; ")}): is the plane seen obliquely, does the lens bend the picture, or is one of them wrong${suspect(disagreeing)}? Their spread is in the budget`,
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

type LengthScale = NonNullable<ScaleFacts["disagreeing"]>[number];

/** The length that stands farthest from the middle one, where more than two tell which that is. */
function suspect(scales: readonly LengthScale[]): string {
  if (scales.length < 3) return "";
  const sorted = scales.map(({ metresPerPixel }) => metresPerPixel).sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1];
  const shares = scales.map(({ metresPerPixel }) => metresPerPixel / middle - 1);
  const worst = shares.reduce((at, share, k) => (Math.abs(share) > Math.abs(shares[at]) ? k : at), 0);
  const percent = Number((100 * Math.abs(shares[worst])).toPrecision(2));
  return ` (length ${worst + 1} is ${percent} % ${shares[worst] < 0 ? "below" : "above"} the middle one)`;
}

/** Rounded to two digits of its standard uncertainty. */
function perPixel({ metresPerPixel, standardUncertainty }: LengthScale): string {
  const [unit, size] = metresPerPixel >= 1e-4 ? ["mm", 1e-3] : ["um", 1e-6];
  const digits =
    standardUncertainty > 0 ? Math.max(0, 1 - Math.floor(Math.log10(standardUncertainty / size))) : 5;
  const [value, uncertainty] = [metresPerPixel, standardUncertainty].map((v) => (v / size).toFixed(digits));
  return `${value} ${unit} +- ${uncertainty} ${unit} a pixel`;
}

import chiSquaredQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import { type ScaleLine, typeB } from "./budget.js";
import { type LengthReading, type MeasuredLength, readLengths } from "./read-lengths.js";

export interface CombinedLengths {
  readonly metresPerPixel: number;
  readonly budget: readonly ScaleLine[];
  /** False where a length came without its uncertainty: the budget then lacks the length standard. */
  readonly isStandardKnown: boolean;
  /** What each length says, and its standard uncertainty of pointing (and of the length, where stated). */
  readonly each: readonly { readonly metresPerPixel: number; readonly standardUncertainty: number }[];
  /** What each weighs in the mean; their sum is 1. */
  readonly shares: readonly number[];
  /** Whether they differ by more than those uncertainties explain, at 95 %; null for one length. */
  readonly disagree: boolean | null;
}

/** The scale of lengths that are seen in one picture. Each is weighed by its whole uncertainty, of pointing and of the length; in
 *  the mean that of the lengths is taken as common to all (one ruler). Where they differ by more than chance, what they differ by is the line
 *  `repeat`, not divided by their number: where in the picture the path will run is not known.
 *  @param pointingPixels  one standard uncertainty of a coordinate, px
 *  @throws CalibrationError `too-few-points`, `coincident-points`, `invalid-value`
 *  @see JCGM 100:2008, 5.2; DerSimonian & Laird, Controlled Clinical Trials 7 (1986) 177 (the spread between; from memory) */
export function combineLengths(lengths: readonly MeasuredLength[], pointingPixels: number): CombinedLengths {
  const readings = readLengths(lengths, pointingPixels);
  const shares = sharesOf(readings);
  const mean = readings.reduce((sum, { metresPerPixel }, k) => sum + shares[k] * metresPerPixel, 0);
  const isStandardKnown = readings.every(({ standard }) => standard !== null);
  const spread = spreadOf(readings, mean, pointingPixels);
  const budget: ScaleLine[] = [];
  if (isStandardKnown)
    budget.push(
      typeB(
        "length standard",
        readings.reduce((sum, { standard }, k) => sum + shares[k] * standard!, 0),
      ),
    );
  budget.push(typeB("pointing", Math.hypot(...readings.map(({ pointing }, k) => shares[k] * pointing))));
  if (spread)
    budget.push({
      source: "repeat",
      type: "A",
      relativeStandardUncertainty: spread.between / mean,
      degreesOfFreedom: readings.length - 1,
    });
  return {
    metresPerPixel: mean,
    budget,
    isStandardKnown,
    each: readings.map((reading) => ({
      metresPerPixel: reading.metresPerPixel,
      standardUncertainty: ownUncertainty(reading),
    })),
    shares,
    disagree: spread?.disagree ?? null,
  };
}

/** Inverse variances, their sum 1; lengths without any uncertainty share alike, and leave nothing to others. */
function sharesOf(readings: readonly LengthReading[]): number[] {
  const weights = readings.map((reading) => 1 / ownUncertainty(reading) ** 2);
  const exact = weights.filter((weight) => weight === Number.POSITIVE_INFINITY).length;
  if (exact > 0) return weights.map((weight) => (Number.isFinite(weight) ? 0 : 1 / exact));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
}

/** Of the scale that one length gives, metres per pixel. */
function ownUncertainty({ metresPerPixel, pointing, standard }: LengthReading): number {
  return metresPerPixel * Math.hypot(pointing, standard ?? 0);
}

/** What the readings differ by beyond their own uncertainties (of lengths, too: each may be another standard). */
function spreadOf(readings: readonly LengthReading[], mean: number, pointingPixels: number) {
  if (readings.length < 2) return null;
  if (pointingPixels === 0) {
    const squares = readings.reduce((sum, { metresPerPixel }) => sum + (metresPerPixel - mean) ** 2, 0);
    return { between: Math.sqrt(squares / (readings.length - 1)), disagree: squares > 0 };
  }
  const weights = readings.map((reading) => 1 / ownUncertainty(reading) ** 2);
  const total = weights.reduce((sum, w) => sum + w, 0);
  const centre =
    readings.reduce((sum, { metresPerPixel }, k) => sum + weights[k] * metresPerPixel, 0) / total;
  const chi = readings.reduce((sum, r, k) => sum + weights[k] * (r.metresPerPixel - centre) ** 2, 0);
  const freedom = readings.length - 1;
  const lost = total - weights.reduce((sum, w) => sum + w * w, 0) / total;
  return {
    between: Math.sqrt(Math.max(0, (chi - freedom) / lost)),
    disagree: chi > chiSquaredQuantile(0.95, freedom),
  };
}

import { addWanderPrecision } from "./add-wander-precision.js";
import { bandedCholesky, bandedSolve, bandedTimes } from "./banded.js";
import { dot, factorInformation, type Information, informationTimes, meanDiagonal } from "./information.js";
import { randomWalks } from "./random-walks.js";
import { type Line, residualsOf, solveLine } from "./solve-line.js";

/** τ runs from this share of the readings' typical standard uncertainty up to four times the scatter. */
const SMALLEST_TAU = 0.15;
/** Cells of the first grid, in log τ and in ρ. */
const LOG_TAU_STEP = Math.log(1.4);
const CORRELATION_STEP = 0.1;
/** Prior weight of no wander at all, in steps of τ. */
const NO_WANDER_STEPS = 10;
/** Many points narrow the posterior to less than a cell, and the uncertainty then hangs on where the grid falls (by
 *  up to 80 % at 200 points): a grid of ZOOMED × ZOOMED is laid over the cells with more than NEGLIGIBLE of the
 *  largest share, and their neighbours, until that saves less than three tenths of the area. */
const ZOOMED = 12;
const NEGLIGIBLE = 1e-3;
const LEAST_SAVING = 0.7;
/** A line of less than this share of the posterior changes nothing that is said of all. */
export const NO_SHARE = 1e-12;
const MOST_ZOOMS = 6;
/** A random walk, with a prior as heavy as that of all wanders about the line together, counts where it is this likely
 *  against them, and so many times likelier than none: of some 20 points it can often not be told from a wander that
 *  returns, and left out makes the interval several times too small. One too small to be seen would keep its share in any
 *  case, and widen every interval. */
const WALK_TO_WANDER = 1 / 3;
const WALK_TO_NONE = 3;

/** A rectangle of wanders. */
interface Cell {
  readonly logTau: readonly [from: number, to: number];
  readonly correlation: readonly [from: number, to: number];
}

/** A first-order autoregressive wander: standard deviation, and correlation of samples one unit of x apart. */
interface Wander {
  readonly tau: number;
  readonly correlation: number;
}

interface Candidate extends Line {
  /** null: none about the line. */
  readonly wander: Wander | null;
  /** The wander is that of its centre. null: of no cell. */
  readonly cell: Cell | null;
  /** Departures add up from frame to frame and never return. */
  readonly isWalk: boolean;
  /** log of likelihood times prior */
  readonly logWeight: number;
}

export interface WeightedCandidate extends Candidate {
  /** Share of the posterior. */
  readonly share: number;
}

/** Lines with their shares of the posterior: no wander, and a grid of wanders where they are likely; and random walks
 *  where they may be what is seen.
 *  @param plain  the line without wander
 *  @param weighting  takes the place of the information where positions are weighed into a line, not in what is
 *    said of its uncertainty and of the wander
 *  @param zooms  finer grids at most; without any the uncertainty of many points is rough, and no random walk is tried */
export function wanderPosterior(
  x: Float64Array,
  y: Float64Array,
  information: Information,
  plain: Line,
  weighting: Information = information,
  zooms = MOST_ZOOMS,
): readonly WeightedCandidate[] {
  const none: Candidate = {
    ...plain,
    wander: null,
    cell: null,
    isWalk: false,
    logWeight: Math.log(NO_WANDER_STEPS * LOG_TAU_STEP) + logLikelihood(plain, 0),
  };
  const lineOf = ({ tau, correlation }: Wander): (Line & { logLikelihood: number }) | null => {
    const model = wanderModel(x, information, tau, correlation);
    const line = model && solveLine(x, y, model.inverseCovarianceTimes);
    return line && { ...line, logLikelihood: logLikelihood(line, model.logDeterminant) };
  };
  const evaluate = (cell: Cell): Candidate[] => {
    const wander = centreOf(cell);
    const line = lineOf(wander);
    return line
      ? [{ ...line, wander, cell, isWalk: false, logWeight: Math.log(areaOf(cell)) + line.logLikelihood }]
      : [];
  };
  const posteriorOn = (box: Cell, rows: number, columns: number) =>
    shared([none, ...gridOn(box, rows, columns).flatMap(evaluate)]);

  const residuals = residualsOf(x, y, plain);
  const spread = Math.sqrt(dot(residuals, residuals) / (x.length - 2));
  const reading = 1 / Math.sqrt(meanDiagonal(information));
  const from = Math.log(SMALLEST_TAU * reading) - LOG_TAU_STEP / 2;
  const rows = Math.ceil((Math.log(4 * Math.max(spread, reading)) - from) / LOG_TAU_STEP);
  const whole: Cell = { logTau: [from, from + rows * LOG_TAU_STEP], correlation: [0, 1] };
  let box = whole;
  let posterior = posteriorOn(whole, rows, Math.round(1 / CORRELATION_STEP));
  for (let zoom = 0; zoom < zooms; zoom++) {
    const likely = likelyBox(posterior, whole);
    if (!(areaOf(likely) < LEAST_SAVING * areaOf(box))) break;
    box = likely;
    posterior = posteriorOn(box, ZOOMED, ZOOMED);
  }
  const weighed = (candidates: readonly WeightedCandidate[]) =>
    weighting === information ? candidates : weighedLines(x, y, information, weighting, candidates);
  if (zooms === 0) return weighed(posterior);
  const walks = randomWalks(x, whole.logTau).flatMap(({ logStep, ...wander }): Candidate[] => {
    const line = lineOf(wander);
    return line
      ? [{ ...line, wander, cell: null, isWalk: true, logWeight: Math.log(logStep) + line.logLikelihood }]
      : [];
  });
  const withWalks = shared([...posterior, ...walks]);
  const shareOf = (isIn: (c: Candidate) => boolean) =>
    withWalks.reduce((sum, c) => (isIn(c) ? sum + c.share : sum), 0);
  const walk = shareOf(({ isWalk }) => isWalk);
  const wander = shareOf(({ cell }) => cell !== null);
  const counts = walk > WALK_TO_WANDER * wander && walk > WALK_TO_NONE * (1 - walk - wander);
  return weighed(counts ? withWalks : posterior);
}

/** The lines as positions weigh in them by another information than that of the readings; of those that count for nothing, none. */
function weighedLines(
  x: Float64Array,
  y: Float64Array,
  information: Information,
  weighting: Information,
  candidates: readonly WeightedCandidate[],
): readonly WeightedCandidate[] {
  const readings = factorInformation(information);
  if (!readings) return candidates;
  const lines = candidates.flatMap((candidate): Candidate[] => {
    const { wander, share } = candidate;
    if (!(share > NO_SHARE)) return [];
    if (!wander) return [candidate];
    const weighing = wanderModel(x, weighting, wander.tau, wander.correlation);
    const line = weighing && solveLine(x, y, weighing.inverseCovarianceTimes);
    const wanderRoot = weighing && bandedCholesky(weighing.precision);
    if (!line || !wanderRoot) return [];
    const { intercept, slope, slopeWeights } = line;
    const slopeVariance =
      dot(slopeWeights, readings.solve(slopeWeights)) +
      dot(slopeWeights, bandedSolve(wanderRoot, slopeWeights));
    return [{ ...candidate, intercept, slope, slopeWeights, slopeVariance }];
  });
  return shared(lines);
}

/** The most likely wander about the line: no wander against a cell of the first grid. */
export function likeliestWander(posterior: readonly WeightedCandidate[]): Wander {
  const logDensity = ({ cell, logWeight }: Candidate) =>
    cell ? logWeight + Math.log((LOG_TAU_STEP * CORRELATION_STEP) / areaOf(cell)) : logWeight;
  const { wander } = posterior
    .filter(({ isWalk }) => !isWalk)
    .reduce((a, b) => (logDensity(b) > logDensity(a) ? b : a));
  return wander ?? { tau: 0, correlation: 0 };
}

function centreOf({ logTau, correlation }: Cell): Wander {
  return {
    tau: Math.exp((logTau[0] + logTau[1]) / 2),
    correlation: (correlation[0] + correlation[1]) / 2,
  };
}

function areaOf({ logTau, correlation }: Cell): number {
  return (logTau[1] - logTau[0]) * (correlation[1] - correlation[0]);
}

function gridOn({ logTau, correlation }: Cell, rows: number, columns: number): Cell[] {
  const part = ([from, to]: readonly [number, number], k: number, of: number) =>
    [from + ((to - from) * k) / of, from + ((to - from) * (k + 1)) / of] as const;
  return Array.from({ length: rows * columns }, (_, k) => ({
    logTau: part(logTau, Math.floor(k / columns), rows),
    correlation: part(correlation, k % columns, columns),
  }));
}

/** Smallest box about all cells that are not negligible and their neighbours. */
function likelyBox(posterior: readonly WeightedCandidate[], whole: Cell): Cell {
  const largest = posterior.reduce((most, { cell, share }) => (cell ? Math.max(most, share) : most), 0);
  const near = posterior.flatMap(({ cell, share }) => (cell && share > NEGLIGIBLE * largest ? [cell] : []));
  const about = (of: "logTau" | "correlation"): readonly [number, number] => {
    const [first, last] = whole[of];
    const margin = (cell: Cell) => cell[of][1] - cell[of][0];
    return [
      near.reduce((least, cell) => Math.min(least, Math.max(first, cell[of][0] - margin(cell))), last),
      near.reduce((most, cell) => Math.max(most, Math.min(last, cell[of][1] + margin(cell))), first),
    ];
  };
  return { logTau: about("logTau"), correlation: about("correlation") };
}

/** Restricted likelihood, up to a constant. */
function logLikelihood(line: Line, logDeterminantV: number): number {
  return -(logDeterminantV + line.logDeterminant + line.chiSquared) / 2;
}

function shared(candidates: readonly Candidate[]): WeightedCandidate[] {
  const largest = candidates.reduce(
    (most, { logWeight }) => Math.max(most, logWeight),
    Number.NEGATIVE_INFINITY,
  );
  const total = candidates.reduce((sum, { logWeight }) => sum + Math.exp(logWeight - largest), 0);
  return candidates.map((c) => ({ ...c, share: Math.exp(c.logWeight - largest) / total }));
}

/** V = W⁻¹ + τ²R through V⁻¹ = W (W + Q)⁻¹ Q with Q = (τ²R)⁻¹ tridiagonal (no difference of near-equal matrices,
 *  so that a wander far above the reading noise costs no digits); log|V| up to the constant −log|W|. */
function wanderModel(x: ArrayLike<number>, information: Information, tau: number, correlation: number) {
  const { sum, precision, logDeterminantQ } = addWanderPrecision(information, x, tau, correlation);
  const factor = factorInformation(sum);
  if (!factor) return null;
  return {
    precision,
    inverseCovarianceTimes: (v: ArrayLike<number>) =>
      informationTimes(information, factor.solve(bandedTimes(precision, v))),
    logDeterminant: factor.logDeterminant - logDeterminantQ,
  };
}

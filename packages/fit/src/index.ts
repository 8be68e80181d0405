export type { BandedMatrix } from "./banded.js";
export {
  bandedCholesky,
  bandedDiagonal,
  bandedDiagonalOf,
  bandedSolve,
  bandedTimes,
  bandedZeros,
} from "./banded.js";
export { findOutliers } from "./find-outliers.js";
export type { PolynomialFit, PolynomialFitOptions } from "./fit-polynomial.js";
export { fitPolynomial } from "./fit-polynomial.js";
export type { WanderingLineFit } from "./fit-wandering-line.js";
export { addWanderPrecision, fitWanderingLine } from "./fit-wandering-line.js";
export type { RobustLine, RobustLineOptions } from "./robust-line.js";
export { robustLine } from "./robust-line.js";
export type { BudgetLine, Quantity, SlopeEstimate, Speed } from "./speed-from.js";
export { effectiveDegreesOfFreedom, speedFrom } from "./speed-from.js";
export { studentFactor } from "./student-t.js";

export { addWanderPrecision } from "./add-wander-precision.js";
export type { BandedMatrix } from "./banded.js";
export { bandedDiagonal, bandedDiagonalOf, bandedZeros } from "./banded.js";
export { effectiveDegreesOfFreedom } from "./effective-degrees-of-freedom.js";
export { erf } from "./erf.js";
export { findOutliers } from "./find-outliers.js";
export type { LinearFit } from "./fit-linear.js";
export { fitLinear } from "./fit-linear.js";
export { fitMotion } from "./fit-motion.js";
export type { Curve, NonlinearFit, NonlinearFitOptions } from "./fit-nonlinear.js";
export { fitNonlinear } from "./fit-nonlinear.js";
export type { PeriodicFit, PeriodicOptions } from "./fit-periodic.js";
export { fitPeriodic } from "./fit-periodic.js";
export type { PolynomialFit, PolynomialFitOptions } from "./fit-polynomial.js";
export { fitPolynomial } from "./fit-polynomial.js";
export type { WanderingLineFit } from "./fit-wandering-line.js";
export { fitWanderingLine } from "./fit-wandering-line.js";
export type { FactoredInformation, Information } from "./information.js";
export { factorInformation, informationTimes } from "./information.js";
export { lineEvidence } from "./line-evidence.js";
export type { LocalSpeed, LocalSpeedOptions } from "./local-speed.js";
export { localSpeed } from "./local-speed.js";
export { median } from "./median.js";
export type * from "./motion-types.js";
export { MOTION_MODELS } from "./motion-types.js";
export type { RobustLine, RobustLineOptions } from "./robust-line.js";
export { robustLine } from "./robust-line.js";
export { withRowTime } from "./rolling-shutter.js";
export { runsTest } from "./runs-test.js";
export type {
  BudgetLine,
  Quantity,
  QuantityPart,
  SlopeContribution,
  SlopeEstimate,
  Speed,
} from "./speed-from.js";
export { speedFrom } from "./speed-from.js";
export { studentFactor } from "./student-t.js";

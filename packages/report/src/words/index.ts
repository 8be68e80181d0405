export {
  type BudgetRow,
  budgetRows,
  effectsLeftOut,
  freedomText,
  relativeText,
  sharedEstimate,
} from "./budget-rows.js";
export { caution } from "./caution.js";
export { type ComparisonRow, comparisonRows } from "./comparison-rows.js";
export { branchText, describeBranches } from "./describe-branches.js";
export { describeModel } from "./describe-model.js";
export { describeShape } from "./describe-shape.js";
export { drawnMark } from "./drawn-mark.js";
export { folderOfTake } from "./folder-of-take.js";
export { channelTexts, frontText, intervalText, lineTexts, tiltTexts, withoutText } from "./front-text.js";
export type * from "./reported-result.js";
export { roundDown, roundPair, twoDigits } from "./round.js";
export { speedText } from "./speed-text.js";
export { framesTexts, scaleTexts } from "./take-text.js";
export { percentText, threeDigits, wholeNumber, withUnit } from "./with-unit.js";

/** What a predicted uncertainty rests on, as it is labelled: "image noise only", or its sources.
 *  @param predictedFrom  as a plan holds it */
export function predictionLabel(predictedFrom: readonly string[]): string {
  return predictedFrom.length === 1 ? `${predictedFrom[0]} only` : predictedFrom.join(", ");
}

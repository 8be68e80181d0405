import type { MotionFit, Quantity } from "@frontpace/fit";

/** Relative, by which the distance is changed to see what it does; farther away, where every limb is that of a sphere. */
const SMALL_CHANGE = 1e-3;

/** Standard uncertainties of the parameters of a model by that of the camera's distance, in their own units: how far each moves with it, the model fitted again to
 *  the radii from a distance a little greater.
 *  @param fitFrom  fits the same model to the radii from the distance times a factor
 *  @returns nothing where the uncertainty of the distance was not stated */
export function parametersByDistance(
  { model }: MotionFit,
  fitFrom: (factor: number) => MotionFit,
  { value, standardUncertainty }: Quantity,
): Readonly<Record<string, number>> {
  if (!standardUncertainty) return {};
  const share = standardUncertainty / value / SMALL_CHANGE;
  const other = fitFrom(1 + SMALL_CHANGE).model.parameters;
  return Object.fromEntries(
    Object.entries(model.parameters).map(([name, parameter]) => [
      name,
      share * Math.abs(other[name].value - parameter.value),
    ]),
  );
}

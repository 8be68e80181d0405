import { combined, type ScaleLine } from "./budget.js";
import type { DepthCorrection } from "./depth-corrections.js";
import { agreesWithLinear, type Distribution, monteCarlo } from "./monte-carlo.js";

/** A scale in the plane of the standard, before the event's depth. */
export interface RawScale {
  readonly metresPerPixel: number;
  readonly budget: readonly ScaleLine[];
  readonly isStandardKnown: boolean;
  /** One value of the scale drawn from what makes it uncertain. */
  draw(normal: () => number): number;
}

/** Inputs whose uncertainty was not stated. */
export type MissingInput = "length standard" | "depth";

export interface FinishedScale {
  readonly metresPerPixel: number;
  /** Of what is known; complete where `missing` is empty. */
  readonly standardUncertainty: number;
  readonly budget: readonly ScaleLine[];
  readonly missing: readonly MissingInput[];
  readonly monteCarlo: Distribution & { readonly agrees: boolean };
}

/** Brings a scale to the plane of the event, and holds the linear propagation of its uncertainty against one by Monte
 *  Carlo. Where they differ and the latter is larger, it takes the place of the former: the line `beyond linear
 *  propagation` makes up the difference.
 *  @see JCGM 101:2008, 8.2 */
export function finishScale(raw: RawScale, depth: DepthCorrection): FinishedScale {
  const metresPerPixel = raw.metresPerPixel * depth.factor;
  const linear = [...raw.budget, ...depth.budget];
  const linearUncertainty = metresPerPixel * combined(linear);
  const drawn = monteCarlo((normal) => {
    const inputs = depth.inputs.map(
      ({ value, standardUncertainty = 0 }) => value + standardUncertainty * normal(),
    );
    return raw.draw(normal) * depth.factorOf(inputs);
  });
  const agrees = agreesWithLinear(metresPerPixel, linearUncertainty, drawn);
  const beyond = agrees ? 0 : Math.sqrt(Math.max(0, drawn.standardUncertainty ** 2 - linearUncertainty ** 2));
  const budget: ScaleLine[] = [
    ...linear,
    ...(beyond > 0
      ? [
          {
            source: "beyond linear propagation" as const,
            type: "B" as const,
            relativeStandardUncertainty: beyond / metresPerPixel,
            degreesOfFreedom: null,
          },
        ]
      : []),
  ];
  const isDepthKnown = depth.inputs.every(({ standardUncertainty }) => standardUncertainty !== undefined);
  return {
    metresPerPixel,
    standardUncertainty: metresPerPixel * combined(budget),
    budget,
    missing: [
      ...(raw.isStandardKnown ? [] : ["length standard" as const]),
      ...(isDepthKnown ? [] : ["depth" as const]),
    ],
    monteCarlo: { ...drawn, agrees },
  };
}

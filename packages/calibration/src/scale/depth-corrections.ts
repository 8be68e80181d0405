import { CalibrationError } from "../calibration-error.js";
import type { Known } from "../types.js";
import { type ScaleLine, typeB } from "./budget.js";

/** A plane-parallel plate, or a layer of a medium, that lies between camera and event but not between camera and
 *  standard. */
export interface Plate {
  /** m */
  readonly thickness: Known;
  readonly index: Known;
}

/** How the event lies otherwise than the standard did. */
export interface DepthOptions {
  /** From the camera's entrance pupil to the standard, m. */
  readonly distance?: Known;
  /** How much farther than the standard the event lies, m; negative: nearer. */
  readonly depthOffset?: Known;
  readonly plates?: readonly Plate[];
}

export interface DepthCorrection {
  /** Metres per pixel in the plane of the event, divided by those of the standard. */
  readonly factor: number;
  readonly budget: readonly ScaleLine[];
  /** What the factor is a function of, with its uncertainties, in the order of `factorOf`. */
  readonly inputs: readonly Known[];
  factorOf(inputs: readonly number[]): number;
}

/** Similar triangles: a plane farther off by d than one at distance D is seen smaller by D / (D + d); through a plate of
 *  thickness t and index n it is seen nearer by t (1 − 1/n) (rays near the axis).
 *  @throws CalibrationError `invalid-value`: no distance, a value out of range, an event behind the camera
 *  @see Hecht, Optics, on plane-parallel plates (citation from memory) */
export function correctDepth({ distance, depthOffset, plates = [] }: DepthOptions): DepthCorrection {
  if (!depthOffset && plates.length === 0) return { factor: 1, budget: [], inputs: [], factorOf: () => 1 };
  if (!distance || !(distance.value > 0))
    throw new CalibrationError(
      "invalid-value",
      "a depth offset, a window or a layer of a medium needs the distance from the camera to the standard",
    );
  for (const { thickness, index } of plates)
    if (!(thickness.value > 0 && index.value >= 1 && index.value < 5))
      throw new CalibrationError(
        "invalid-value",
        `a window needs a thickness > 0 and an index of refraction from 1 to 5, got ${thickness.value} m and ${index.value}`,
      );
  const offset = depthOffset ?? { value: 0, standardUncertainty: 0 };
  const inputs = [distance, offset, ...plates.flatMap(({ thickness, index }) => [thickness, index])];
  const factorOf = ([from, farther, ...rest]: readonly number[]) => {
    let shift = 0;
    for (let k = 0; k < rest.length; k += 2) shift += rest[k] * (1 - 1 / rest[k + 1]);
    return (from + farther - shift) / from;
  };
  const values = inputs.map(({ value }) => value);
  const factor = factorOf(values);
  if (!(factor > 0.1))
    throw new CalibrationError(
      "invalid-value",
      `the event would lie at ${factor.toPrecision(2)} of the distance of the standard: check distance, depth offset and window`,
    );
  const part = (of: readonly number[]) =>
    Math.hypot(
      ...of.map((k) => {
        const u = inputs[k].standardUncertainty ?? 0;
        const at = (move: number) => factorOf(values.with(k, values[k] + move));
        return (at(u / 2) - at(-u / 2)) / factor;
      }),
    );
  return {
    factor,
    inputs,
    factorOf,
    budget: [
      ...(depthOffset ? [typeB("event plane against scale plane", part([0, 1]))] : []),
      ...(plates.length > 0
        ? [typeB("refraction", part(depthOffset ? plateInputs(inputs) : [0, ...plateInputs(inputs)]))]
        : []),
    ],
  };
}

function plateInputs(inputs: readonly Known[]): number[] {
  return inputs.map((_, k) => k).slice(2);
}

import type { MotionFit, Quantity } from "@frontpace/fit";
import type { Settings } from "../settings/settle.js";
import type { MeasuredResult } from "../types.js";

type Model = MeasuredResult["model"];

/** Powers of scale and rate that take a parameter from px and frames to m and s, and its unit. */
interface Units {
  readonly scale: number;
  readonly rate: number;
  readonly unit: string;
}
const speed: Units = { scale: 1, rate: 1, unit: "m/s" };
const time: Units = { scale: 0, rate: -1, unit: "s" };
const unitsOf = (name: string, exponent: number): Units => {
  if (name === "acceleration") return { scale: 1, rate: 2, unit: "m/s^2" };
  if (name === "exponent") return { scale: 0, rate: 0, unit: "1" };
  if (name === "coefficient") return { scale: 1, rate: exponent, unit: "m/s^exponent" };
  return /time/i.test(name) ? time : speed;
};

/** A model in metres and seconds, its parameters with the uncertainties of the fit, the scale and the rate; times are those of frame
 *  number 0.
 *  @param further  standard uncertainties of parameters by what else they hang on, px and frames. Default: nothing else */
export function modelInUnits(
  { model, tried }: MotionFit,
  { rateHz, metresPerPixel }: Pick<Settings, "rateHz" | "metresPerPixel">,
  further: Readonly<Record<string, number>> = {},
): Model {
  const exponent = model.parameters.exponent?.value ?? 0;
  const parameters = Object.entries(model.parameters).map(([name, { value, standardUncertainty }]) => {
    const { scale, rate, unit } = unitsOf(name, exponent);
    const factor = metresPerPixel.value ** scale * rateHz.value ** rate;
    const inUnits = value * factor;
    const u = Math.hypot(
      standardUncertainty * factor,
      (further[name] ?? 0) * factor,
      inUnits * scale * relative(metresPerPixel),
      inUnits * rate * relative(rateHz),
    );
    return [name, { value: inUnits, standardUncertainty: u, unit }] as const;
  });
  return {
    name: model.name,
    parameters: Object.fromEntries(parameters),
    ...triedInUnits(tried, rateHz.value * metresPerPixel.value),
  };
}

/** What the model was chosen from, where there was a choice. */
export function triedInUnits(tried: MotionFit["tried"], metresPerSecond: number): Pick<Model, "tried"> {
  if (tried.length < 2) return {};
  return {
    tried: tried.map(({ name, verdict, aiccAboveLeast, speed: found }) => ({
      name,
      verdict,
      aiccAboveLeast,
      speed: found === null ? null : found * metresPerSecond,
    })),
  };
}

function relative({ value, standardUncertainty = 0 }: Quantity): number {
  return standardUncertainty / value;
}

import { findMaterial, statusInWords, wavesIn } from "@frontpace/planner";
import type { TakeResult } from "../types.js";

/** The result with its speed as a share of the Rayleigh speed of a material, and the warning `above-rayleigh` where it is faster: an
 *  opening crack does not outrun it.
 *  @throws PlannerError `unknown-material`, `no-elastic-constants` */
export function withMaterial(result: TakeResult, name: string): TakeResult {
  const material = findMaterial(name);
  const rayleigh = wavesIn(material).rayleigh;
  const { elasticSource: source, elasticStatus: status } = material;
  const value = result.speed?.value ?? result.lowerBound?.value ?? null;
  const { warnings, ...rest } = result;
  return {
    ...rest,
    material: {
      name,
      rayleighSpeed: rayleigh,
      shareOfRayleigh: value === null ? null : value / rayleigh,
      source,
      status,
    },
    warnings:
      value === null || value <= rayleigh
        ? warnings
        : [...warnings, { code: "above-rayleigh", message: outrun(result, value, rayleigh) }],
  } as TakeResult;

  function outrun({ speed }: TakeResult, fast: number, limit: number): string {
    const sure =
      speed && fast - speed.expandedUncertainty <= limit
        ? "though its interval reaches below it"
        : "by more than its uncertainty";
    return `${Math.round(fast)} m/s is above the Rayleigh speed of ${name}, ${Math.round(limit)} m/s, ${sure}, and an opening crack does not outrun that: look at scale, rate, a front that meets the path obliquely, and cracks born ahead of the front. The Rayleigh speed is computed from constants of ${source} (${statusInWords(status)})`;
  }
}

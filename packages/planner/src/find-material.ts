import { type Material, materials, type SourceStatus } from "./materials.js";
import { PlannerError } from "./planner-error.js";
import { poissonRatioOf, rayleighRatio, type WaveSpeeds, waveSpeeds } from "./rayleigh-speed.js";
import type { SpeedRange } from "./request-types.js";

/** A material of the physics table. @throws PlannerError `unknown-material` */
export function findMaterial(name: string): Material {
  const material = materials.find((one) => one.name === name);
  if (material) return material;
  const known = materials.map((one) => one.name).join(", ");
  throw new PlannerError("unknown-material", `unknown material "${name}"; known are ${known}`, {
    key: "material",
    value: name,
  });
}

/** Speeds of waves in a material, from its constants; the Rayleigh speed by solving the Rayleigh equation.
 *  @throws PlannerError `no-elastic-constants` where the table has none */
export function wavesIn({ name, elastic }: Material): WaveSpeeds {
  if (elastic === null)
    throw new PlannerError(
      "no-elastic-constants",
      `the table has no elastic constants of ${name}, so that its Rayleigh speed is not known: leave the material out, or name one that has them`,
      { key: "material", value: name },
    );
  if ("youngsModulus" in elastic)
    return waveSpeeds(elastic.youngsModulus, elastic.density, elastic.poissonRatio);
  const { longitudinal, shear } = elastic;
  return { longitudinal, shear, rayleigh: shear * rayleighRatio(poissonRatioOf(longitudinal, shear)) };
}

/** The range that published speeds of cracks in a material span, m/s, and what it rests on.
 *  @throws PlannerError `no-crack-speed` where the table has none */
export function crackSpeedsIn(material: Material): SpeedRange & { readonly sources: readonly string[] } {
  const { crackSpeeds, name } = material;
  if (crackSpeeds.length === 0) {
    const { longitudinal, shear, rayleigh } = wavesIn(material);
    throw new PlannerError(
      "no-crack-speed",
      `the table has no measured speed of cracks in ${name}: give the speed (an opening crack stays below the Rayleigh speed, ${Math.round(rayleigh)} m/s; longitudinal waves run at ${Math.round(longitudinal)} m/s, shear waves at ${Math.round(shear)} m/s)`,
      { key: "material", value: name },
    );
  }
  return {
    low: Math.min(...crackSpeeds.map(({ low }) => low)),
    high: Math.max(...crackSpeeds.map(({ high }) => high)),
    sources: crackSpeeds.map(({ source, status }) => `${source} (${statusInWords(status)})`),
  };
}

/** How far a source can be trusted, in words. */
export function statusInWords(status: SourceStatus): string {
  return {
    read: "read at the source",
    secondary: "as another quotes it",
    memory: "from memory, not verified",
  }[status];
}

import { wrong } from "./option-parsers.js";

/** 0 °C, K. */
const ICE_POINT = 273.15;
const number = String.raw`(?:\d+\.?\d*|\.\d+)`;
const temperature = new RegExp(
  `^([+-]?${number})\\s*(°?C|K)?(?:\\s*(?:\\+-|±)\\s*(${number})\\s*(°?C|K)?)?$`,
);

/** Reads `20C`, `20C+-0.5C` or `293.15K+-0.5K`; of the two units one is enough.
 *  @returns as the keys of take.json
 *  @throws CliError `invalid-option` */
export function parseTemperature(text: string): {
  airTemperatureKelvin: number;
  airTemperatureUncertaintyKelvin?: number;
} {
  const [, value, first, uncertainty, second] = temperature.exec(text.trim()) ?? [];
  const unit = first ?? second;
  const kelvin = unit === undefined ? Number.NaN : Number(value) + (unit === "K" ? 0 : ICE_POINT);
  if (!(kelvin > 0))
    throw wrong(
      "--air-temperature",
      "a temperature above absolute zero with its unit (C, K), with or without its standard uncertainty",
      "20C+-0.5C",
      text,
    );
  return {
    airTemperatureKelvin: kelvin,
    ...(uncertainty !== undefined && { airTemperatureUncertaintyKelvin: Number(uncertainty) }),
  };
}

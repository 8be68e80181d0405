/** Constants of air as ISO 2533:1975 has them. */
export const ISO_2533 = { gamma: 1.4, gasConstant: 287.05287, standardTemperatureKelvin: 288.15 } as const;

/** A value with one standard uncertainty. */
export interface Uncertain {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** Speed of sound in dry air, c = sqrt(γ R T), by the constants of ISO 2533; u(c)/c = u(T)/2T. Moist air is faster, by 0.4 % at most at
 *  20 °C (common practice, no source).
 *  @param temperatureKelvin  > 0, K
 *  @returns m/s: 340.294 at 288.15 K
 *  @throws RangeError on a temperature that is not > 0, or an uncertainty below 0
 *  @see ISO 2533:1975, 2.1 and 2.2 */
export function soundSpeed(temperatureKelvin: Uncertain): Uncertain {
  const { value: temperature, standardUncertainty } = temperatureKelvin;
  if (!(temperature > 0 && temperature < Number.POSITIVE_INFINITY))
    throw new RangeError(`temperatureKelvin must be finite and > 0, got ${temperature}`);
  if (!(standardUncertainty >= 0))
    throw new RangeError(`temperatureKelvin.standardUncertainty must be >= 0, got ${standardUncertainty}`);
  const value = Math.sqrt(ISO_2533.gamma * ISO_2533.gasConstant * temperature);
  return { value, standardUncertainty: (value * standardUncertainty) / (2 * temperature) };
}

/** Mach number of a speed, with the uncertainties of both in quadrature.
 *  @throws RangeError on a speed below 0 or a speed of sound that is not > 0 */
export function machNumber(speed: Uncertain, sound: Uncertain): Uncertain {
  if (!(speed.value >= 0)) throw new RangeError(`speed must be >= 0, got ${speed.value}`);
  if (!(sound.value > 0)) throw new RangeError(`sound must be > 0, got ${sound.value}`);
  const value = speed.value / sound.value;
  return {
    value,
    standardUncertainty:
      Math.hypot(speed.standardUncertainty, value * sound.standardUncertainty) / sound.value,
  };
}

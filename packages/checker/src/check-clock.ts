import { digits } from "./digits.js";
import type { CheckLine, ClockFacts } from "./types.js";

/** A stated rate that differs by more standard uncertainties is another than that of the camera. */
const DIFFERS = 3;

/** A recording rate told by a lamp of known frequency. */
export interface ClockedRate {
  readonly rateHz: number;
  /** Of the reading alone, one standard uncertainty. */
  readonly readingUncertaintyHz: number;
  /** With that of the lamp; null where that is not stated. */
  readonly rateUncertaintyHz: number | null;
  readonly degreesOfFreedom: number;
}

/** The recording rate: the lamp's frequency over the cycles that it makes in a frame interval; relative variances add.
 *  @returns null where the lamp is not seen
 *  @see JCGM 100:2008, 5.1.6 */
export function clockedRate({ lampHz, lampUncertaintyHz, seen }: ClockFacts): ClockedRate | null {
  if (!seen) return null;
  const rateHz = lampHz / seen.cyclesPerFrame;
  const reading = seen.standardUncertainty / seen.cyclesPerFrame;
  return {
    rateHz,
    readingUncertaintyHz: rateHz * reading,
    rateUncertaintyHz:
      lampUncertaintyHz === null ? null : rateHz * Math.hypot(reading, lampUncertaintyHz / lampHz),
    degreesOfFreedom: seen.degreesOfFreedom,
  };
}

/** The measured recording rate against the stated one. */
export function checkClock(facts: ClockFacts): CheckLine {
  const { lampHz, nominalRateHz, frames } = facts;
  const rate = clockedRate(facts);
  if (!rate)
    return {
      check: "clock",
      verdict: "warn",
      message: `nothing in ${frames} frames repeats at ${digits(lampHz)} Hz at about the stated rate`,
      advice:
        "give the part of the picture that shows the lamp (--lamp), more frames, or look whether it is lit and at which frequency",
      values: { rateHz: null, rateUncertaintyHz: null, readingUncertaintyHz: null, degreesOfFreedom: null },
    };
  const { rateHz, readingUncertaintyHz, rateUncertaintyHz, degreesOfFreedom } = rate;
  const u = rateUncertaintyHz ?? readingUncertaintyHz;
  const isOther = Math.abs(rateHz - nominalRateHz) > DIFFERS * u;
  const known = rateUncertaintyHz !== null;
  const advice = [
    ...(isOther ? ["measure with this rate, not with the stated one"] : []),
    ...(known
      ? []
      : [
          "state the uncertainty of the lamp (--clock 1kHz+-0.001%), so that the rate has one for the budget",
        ]),
  ];
  return {
    check: "clock",
    verdict: advice.length > 0 ? "warn" : "pass",
    message: `recording rate ${withUncertainty(rateHz, u)} frames/s (k = 1${known ? "" : ", without that of the lamp"}) by the lamp, over ${frames} frames; stated ${Number(nominalRateHz.toPrecision(9))}`,
    advice: advice.length > 0 ? advice.join("; ") : null,
    values: { rateHz, rateUncertaintyHz, readingUncertaintyHz, degreesOfFreedom },
  };
}

/** A value to the second digit of its uncertainty. */
function withUncertainty(value: number, u: number): string {
  if (!(u > 0)) return `${value} +- 0`;
  const decimals = Math.max(0, 1 - Math.floor(Math.log10(u)));
  return `${value.toFixed(decimals)} +- ${u.toFixed(decimals)}`;
}

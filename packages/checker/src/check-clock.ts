import { digits } from "./digits.js";
import type { CheckLine, ClockFacts } from "./types.js";

/** A stated rate that differs by more standard uncertainties is another than that of the camera. */
const DIFFERS = 3;

/** A wave of so many harmonics is switched rather than smooth. */
const SWITCHED = 3;
/** A lamp that comes back to a moment of its wave after some frames, and drifts past fewer than two gaps between such
 *  moments over all frames, shows these moments alone; after so many frames or fewer, it keeps step with them. */
const FEWEST_GAPS = 2;
const LONGEST_STEP = 16;
/** Of so few moments the harmonics cannot be told apart, and a switched lamp may look smooth. */
const TOO_FEW_MOMENTS = 6;

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
export function clockedRate(facts: ClockFacts): ClockedRate | null {
  const { lampHz, lampUncertaintyHz, seen, frames } = facts;
  if (!seen) return null;
  const rateHz = lampHz / seen.cyclesPerFrame;
  // The edges of a switched lamp may lie anywhere between two moments that are seen, uniformly, at the first frame and at
  // the last.
  const unseen = unseenCycles(facts) / (frames * Math.sqrt(3));
  const reading = Math.hypot(seen.standardUncertainty, unseen) / seen.cyclesPerFrame;
  return {
    rateHz,
    readingUncertaintyHz: rateHz * reading,
    rateUncertaintyHz:
      lampUncertaintyHz === null ? null : rateHz * Math.hypot(reading, lampUncertaintyHz / lampHz),
    degreesOfFreedom: seen.degreesOfFreedom,
  };
}

/** Longest part of the wave of a switched lamp that no frame sees, cycles. */
function unseenCycles(facts: ClockFacts): number {
  const { seen, lampHz, exposureSeconds } = facts;
  const moments = momentsSeen(facts);
  if (!seen || moments === null) return 0;
  const exposed = Math.min(seen.cyclesPerFrame, lampHz * (exposureSeconds ?? 0));
  return Math.max(0, Math.min(1 / moments, seen.cyclesPerFrame) - exposed);
}

/** Whether a lamp that is switched, or may be, shows the same few moments of its wave again and again. */
function keepsStep(facts: ClockFacts): boolean {
  const moments = momentsSeen(facts);
  return moments !== null && moments <= LONGEST_STEP;
}

/** Moments of its wave that a lamp that is switched, or may be, shows again and again.
 *  @returns null for a smooth lamp */
function momentsSeen({ seen, frames }: ClockFacts): number | null {
  if (!seen) return null;
  // Among the numbers up to half that of the frames one leads back near enough: Dirichlet's approximation theorem.
  const most = seen.harmonics < SWITCHED ? TOO_FEW_MOMENTS : frames;
  for (let step = 1; step <= most; step++) {
    const cycles = step * seen.cyclesPerFrame;
    if (Math.abs(cycles - Math.round(cycles)) * frames < FEWEST_GAPS) return step;
  }
  return null;
}

const UNTOLD = { rateHz: null, rateUncertaintyHz: null, readingUncertaintyHz: null, degreesOfFreedom: null };

/** The measured recording rate against the stated one. */
export function checkClock(facts: ClockFacts): CheckLine {
  const { lampHz, nominalRateHz, frames } = facts;
  const rate = clockedRate(facts);
  const elsewhere = facts.elsewhereCyclesPerFrame ?? null;
  if (!rate && elsewhere !== null)
    return {
      check: "clock",
      verdict: "warn",
      message: `the lamp's frequency, ${digits(lampHz)} Hz, and the stated rate do not go together: what repeats does so at ${digits(elsewhere * nominalRateHz)} Hz at that rate, and no rate is told`,
      advice:
        "look which of the two is wrong, and whether another lamp flickers in the picture (--lamp); the stated rate must be right to 5 %",
      values: UNTOLD,
    };
  if (!rate)
    return {
      check: "clock",
      verdict: "warn",
      message: `nothing in ${frames} frames repeats at ${digits(lampHz)} Hz at about the stated rate`,
      advice:
        "give the part of the picture that shows the lamp (--lamp), more frames, or look whether it is lit and at which frequency",
      values: UNTOLD,
    };
  const { rateHz, readingUncertaintyHz, rateUncertaintyHz, degreesOfFreedom } = rate;
  const u = rateUncertaintyHz ?? readingUncertaintyHz;
  const isOther = Math.abs(rateHz - nominalRateHz) > DIFFERS * u;
  const known = rateUncertaintyHz !== null;
  const advice = [
    ...(isOther ? ["measure with this rate, not with the stated one"] : []),
    ...(keepsStep(facts)
      ? [
          "the lamp nearly keeps step with the frames, so that their rate is told to an interval only: film longer, or set the lamp to a frequency that is no simple part of the rate",
        ]
      : []),
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

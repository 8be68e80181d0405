import { chooseUnit } from "../drawing/choose-unit.js";
import { typeset } from "../page/typeset.js";
import type { ReportedResult } from "../words/reported-result.js";
import { roundPair } from "../words/round.js";
import { speedText } from "../words/speed-text.js";
import type { OverlayFrame } from "./overlay-input.js";

/** Lines of text for every frame. */
export type Lines = readonly string[];

/** One choice of what the text says, and the ways in which it may be set. */
export interface Wording {
  /** What of the whole this choice leaves out. */
  readonly leavesOut: readonly string[];
  /** From the one that reads best to the one that needs least room; lines for every frame. */
  readonly settings: readonly (readonly Lines[])[];
}

const NOT_TOLD = "–";

/** What an overlay says, from all of it to least. A speed never stands without its interval. */
export function overlayWords(result: ReportedResult, frames: readonly OverlayFrame[]): Wording[] {
  const { head, list } = heading(result);
  const wrapped = head.split(/ (?=±|\()|(?<=,) /).map((line) => line.replace(/,$/, ""));
  const compact = head.replace(" m/s ±", " ±");
  const time = timeTexts(result, frames);
  const distance = result.speed ? distanceTexts(result, frames) : null;
  const labelled = (label: string, texts: Lines | null) => texts?.map((text) => `${label} ${text}`) ?? null;
  const of = (lines: Lines, ...parts: readonly (Lines | null)[]) =>
    frames.map((_, k) => [...lines, ...parts.flatMap((part) => (part ? [part[k]] : []))]);
  const inOneLine = (...parts: readonly (Lines | null)[]) =>
    of([compact], ...parts).map((lines) => [lines.join("   ")]);
  const [withLabel, lasting] = [labelled("distance", distance), labelled("time", time)];
  const all = (speeds: Lines): Wording["settings"] => [
    of([head, ...speeds], withLabel, lasting),
    of([...wrapped, ...speeds], withLabel, lasting),
    of([...wrapped, ...speeds], distance, time),
    ...(speeds.length === 0 ? [inOneLine(distance, time)] : []),
  ];
  const listed = list.length > 0 ? ["the list of speeds"] : [];
  return [
    { leavesOut: [], settings: all(list) },
    ...(list.length > 0 ? [{ leavesOut: listed, settings: all([]) }] : []),
    ...(distance
      ? [
          {
            leavesOut: ["time"],
            settings: [of(wrapped, withLabel), of(wrapped, distance), inOneLine(distance)],
          },
        ]
      : []),
    {
      leavesOut: [...listed, ...(distance ? ["distance"] : []), "time"],
      settings: [of([head]), of(wrapped), of([compact])],
    },
  ];
}

/** The answer, and where there are several fronts, theirs. */
function heading(result: ReportedResult): { readonly head: string; readonly list: Lines } {
  const { branches = [], fronts = [], take, speed, lowerBound } = result;
  const kind = branches.length > 0 ? "crack" : "front";
  const many = Math.max(branches.length, fronts.length);
  if (speed || lowerBound) {
    const which = many > 1 ? `${kind} ${take.front ?? 1}: ` : "";
    return { head: which + typeset(speedText(result)), list: [] };
  }
  const list =
    branches.length > 0
      ? branches.map(({ speed: value, expandedUncertainty: half }) =>
          value === null || half === null ? "not measured" : withHalf(value, half, ""),
        )
      : fronts.map(({ speed: value, standardUncertainty: u }) => withHalf(value, u, " (k = 1)"));
  return {
    head: `${many} ${kind}s, no one speed`,
    list: list.map((text, k) => `${k + 1}: ${text}`),
  };
}

function withHalf(speed: number, uncertainty: number, after: string): string {
  const { value, halfWidth } = roundPair(speed, uncertainty);
  return `${value} ± ${halfWidth} m/s${after}`;
}

function timeTexts({ take }: ReportedResult, frames: readonly OverlayFrame[]): string[] {
  const seconds = frames.map(({ elapsedSeconds }) => elapsedSeconds);
  const interval = (take.frameStep ?? 1) / take.rateHz;
  const unit = chooseUnit(largest(seconds, interval), "s");
  return seconds.map((value) => inUnit(value, unit, digitsFor(interval / unit.size)));
}

function distanceTexts({ track, take }: ReportedResult, frames: readonly OverlayFrame[]): string[] {
  const metres = frames.map(({ distanceMetres }) => distanceMetres);
  const uncertainties = (track?.standardUncertaintyMetres ?? [])
    .filter((_, k) => track?.used[k])
    .sort((a, b) => a - b);
  const reading = uncertainties[uncertainties.length >> 1] ?? 0;
  const longest = largest(metres, reading);
  const ofScale = (longest * (take.metresPerPixelUncertainty ?? 0)) / take.metresPerPixel;
  const typical = Math.hypot(reading, ofScale);
  const unit = chooseUnit(longest, "m");
  // To the place of the first digit of what the whole run is uncertain by.
  const digits = typical > 0 ? -Math.floor(Math.log10(typical / unit.size)) : 3;
  return metres.map((value) => inUnit(value, unit, Math.min(3, Math.max(0, digits))));
}

function largest(values: readonly (number | null)[], least: number): number {
  return values.reduce<number>((most, value) => Math.max(most, Math.abs(value ?? 0)), least);
}

/** Decimals that show an interval whole, or to two of its digits. */
function digitsFor(interval: number): number {
  for (let digits = 0; digits <= 2; digits++) {
    const steps = interval * 10 ** digits;
    if (steps >= 1 - 1e-9 && Math.abs(steps - Math.round(steps)) < 1e-6 * steps) return digits;
  }
  return Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(interval))));
}

function inUnit(
  value: number | null,
  { name, size }: { readonly name: string; readonly size: number },
  digits: number,
): string {
  if (value === null) return `${NOT_TOLD} ${name}`;
  const text = (value / size).toFixed(digits);
  const signed = Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
  return `${signed} ${name}`;
}

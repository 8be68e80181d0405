import {
  crackShares,
  findMaterial,
  type Material,
  PLAYBACK_RATES,
  playbackSeconds,
  predictionLabel,
  statusInWords,
  wavesIn,
} from "@frontpace/planner";
import { percentText, threeDigits, wholeNumber, withUnit } from "@frontpace/report/words";
import type { PlanReport } from "@frontpace/take";
import { alignColumns } from "../terminal/align-columns.js";
import { screenTime } from "../terminal/screen-time.js";
import { wrapText } from "../terminal/wrap-text.js";
import { describeMemory } from "./describe-memory.js";
import { speedRangeText } from "./speed-range-text.js";

type Mode = PlanReport["modes"][number];

/** Characters in a line of running text. */
const LINE_WIDTH = 100;

/** All modes, the chosen one, and why others are not, as lines for a person.
 *  @param list  name of the list of modes
 *  @param files  paths written, as they are to be shown */
export function describePlan(report: PlanReport, list: string, files: readonly string[]): string[] {
  const { modes, chosen, request, material, take, widthCostsRate } = report;
  const subject = `${speedRangeText(request.speedMetresPerSecond)} over ${withUnit(request.lengthMetres, "m")}`;
  const lines = [
    `plan${take === null ? "" : ` for ${take}`}: ${subject}, ${modes.length} ${modes.length === 1 ? "mode" : "modes"} of ${list}`,
    ...(material === null ? [] : describeMaterial(material)),
    ...alignColumns([HEADER, ...modes.map((mode, k) => rowOf(mode, k === chosen))]),
    ...describeMemory(report),
    ...modes.flatMap((mode) => describeInterpolation(mode)),
    ...(widthCostsRate === false ? ["a narrower picture of the same height is no faster in this list"] : []),
  ];
  const rejected = modes.filter(({ meets }) => !meets);
  if (rejected.length > 0)
    lines.push(
      "rejected:",
      ...rejected.flatMap((mode) => wrap(`  ${nameOf(mode)}: ${mode.reasons.join("; ")}`)),
    );
  if (chosen !== null) lines.push(...describeChosen(modes[chosen], report));
  if (chosen !== null && take === null)
    lines.push(
      "the plan is tied to no take: with --take NAME, compare and measure refuse the result of another",
    );
  if (files.length > 0) lines.push("", "written:", ...files.map((file) => `  ${file}`));
  return lines;
}

const HEADER = [
  "",
  "px",
  "one px",
  "frames/s",
  "across",
  "px/frame",
  "step",
  "exposure",
  "blur px",
  "blur",
  "stops lost",
  "speed to",
];

function rowOf(mode: Mode, isChosen: boolean): string[] {
  const { stopsLost, predictedRelativeUncertainty } = mode;
  return [
    isChosen ? ">" : mode.meets ? "" : "x",
    `${mode.columns} x ${mode.rows}`,
    withUnit(mode.metresPerPixel, "m"),
    wholeNumber(mode.rateHz),
    threeDigits(mode.framesAcross),
    threeDigits(mode.pixelsPerFrame),
    withUnit(mode.stepMetres, "m"),
    withUnit(mode.exposureSeconds, "s"),
    threeDigits(mode.blurPixels),
    withUnit(mode.blurMetres, "m"),
    stopsLost === null ? "-" : threeDigits(stopsLost),
    predictedRelativeUncertainty === null ? "-" : percentText(predictedRelativeUncertainty),
  ];
}

function describeMaterial({ name, sources }: NonNullable<PlanReport["material"]>): string[] {
  return [
    ...describeWaves(findMaterial(name)),
    `speeds of cracks in ${name}:`,
    ...sources.map((source) => `  ${source}`),
    ...crackShares.flatMap(({ what, shareOfRayleigh, source, status }) =>
      wrap(
        `  not in the range: up to ${shareOfRayleigh} of the Rayleigh speed in ${what}, ${source} (${statusInWords(status)})`,
      ),
    ),
  ];
}

function describeWaves(material: Material): string[] {
  const { name, describes, elastic, elasticSource, elasticStatus } = material;
  if (elastic === null) return wrap(`waves in ${name} (${describes}): no constants to compute them from`);
  const { longitudinal, shear, rayleigh } = wavesIn(material);
  return [
    `waves in ${name}: longitudinal ${wholeNumber(longitudinal)} m/s, shear ${wholeNumber(shear)} m/s, Rayleigh ${wholeNumber(rayleigh)} m/s`,
    ...wrap(`  from constants of ${elasticSource} (${statusInWords(elasticStatus)})`),
  ];
}

function describeInterpolation({ interpolation, ...mode }: Mode): string[] {
  if (interpolation === null) return [];
  const { rowTimeSeconds, overheadSeconds, fittedRows, relativeResidual } = interpolation;
  const residual =
    relativeResidual === null
      ? "which fix it, so that nothing is left to judge it by"
      : `largest residual ${percentText(relativeResidual)}`;
  return wrap(
    `${mode.columns} x ${mode.rows} px is between listed heights: ${withUnit(rowTimeSeconds, "s")} a row and ${withUnit(overheadSeconds, "s")} besides, fitted to ${fittedRows.join(", ")} rows, ${residual}`,
  );
}

function describeChosen(mode: Mode, { request, predictedFrom }: PlanReport): string[] {
  const { recordFrames, eventShare, triggerShare, playbackSeconds: onScreen, stepToNoise, mains } = mode;
  const lines = [
    `chosen: ${nameOf(mode)} at ${wholeNumber(mode.rateHz)} frames/s, exposure ${withUnit(mode.exposureSeconds, "s")}, one pixel ${withUnit(mode.metresPerPixel, "m")}`,
  ];
  if (mode.predictedRelativeUncertainty !== null) {
    lines.push(
      `  the speed is expected to ${percentText(mode.predictedRelativeUncertainty)} standard uncertainty (${predictionLabel(predictedFrom)}; step to noise ${threeDigits(stepToNoise!)})`,
    );
  }
  lines.push(`  the event lasts ${withUnit(mode.eventSeconds, "s")} at most`);
  if (recordFrames === null)
    lines.push(...wrap(`  on the screen it lasts ${onTheScreen(mode.eventSeconds * mode.rateHz)}`));
  else {
    const share = eventShare === null ? "" : `; the event fills ${percentText(eventShare)} of it`;
    lines.push(
      `  memory holds ${wholeNumber(recordFrames)} frames, ${withUnit(mode.recordSeconds!, "s")}${share}`,
    );
    lines.push(...wrap(`  on the screen it lasts ${onTheScreen(recordFrames)}`));
    if (onScreen !== null && request.playbackHz !== undefined)
      lines.push(
        `  at ${request.playbackHz} frames/s: ${screenTime(onScreen)}, the event ${screenTime(mode.eventPlaybackSeconds!)}`,
      );
  }
  if (triggerShare !== null)
    lines.push(`  keep ${percentText(triggerShare)} of the memory from before the trigger`);
  const lamps = mains.map(
    ({ lampHz, framesPerCycle, largestVariation }) =>
      `${percentText(largestVariation)} on ${lampHz / 2} Hz (${wholeNumber(framesPerCycle)} frames a flicker of ${lampHz} Hz)`,
  );
  lines.push(
    ...wrap(
      `  lamps on the mains that go dark in between vary over the event by up to ${lamps.join(", ")}; others by their depth times that`,
    ),
  );
  return lines;
}

function onTheScreen(frames: number): string {
  return PLAYBACK_RATES.map((rate) => `${screenTime(playbackSeconds(frames, rate))} at ${rate}`).join(", ");
}

function nameOf({ columns, rows }: Pick<Mode, "columns" | "rows">): string {
  return `${columns} x ${rows} px`;
}

function wrap(text: string): string[] {
  const indent = /^ */.exec(text)![0];
  const [first, ...more] = wrapText(text.trimStart(), LINE_WIDTH, `${indent}  `);
  return [indent + first, ...more];
}

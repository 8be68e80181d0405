import type { ReportedResult, ReportedTake } from "../words/reported-result.js";
import { twoDigits } from "../words/round.js";
import { framesTexts, scaleTexts } from "../words/take-text.js";
import { threeDigits, wholeNumber, withUnit } from "../words/with-unit.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { amount } from "./quantity.js";
import { choices } from "./stated-keys.js";
import { sentence, typeset } from "./typeset.js";

type Pair = readonly [term: string, value: Markup | string];

/** Every input as used, which choices were made by hand, program, hash of the frames, files. */
export function provenanceSection(result: ReportedResult, files: readonly string[]): Markup {
  const { take, front, program } = result;
  const { byHand, byProgram } = choices(take.stated);
  const pairs: Pair[] = [
    ["frames", html`${framesTexts(result).map((text) => html`<p>${sentence(text)}</p>`)}`],
    ["recording rate", rateOf(take)],
    ["scale", scaleOf(take)],
    ...inputs(take),
    [
      "path",
      `from ${pointText(take.path[0])} to ${pointText(take.path[1])} px, ${take.width.toFixed(Number.isInteger(take.width) ? 0 : 1)} px wide`,
    ],
    ...(front ? [["measurand", sentence(front.measurand)] as const] : []),
    ["stated by hand", byHand.length > 0 ? byHand.join(", ") : "nothing"],
    ["found by the program", byProgram.length > 0 ? byProgram.join(", ") : "nothing"],
    ["frames read, SHA-256", html`<code>${take.framesHash}</code>`],
    ...(take.planHash === undefined ? [] : [["plan, digest", html`<code>${take.planHash}</code>`] as const]),
    ["program", `${program.name} ${program.version}`],
    ...(files.length > 0
      ? [
          [
            "files beside this page",
            html`${files.map((name, k) => html`${k > 0 && ", "}<a href="${encodeURIComponent(name)}">${name}</a>`)}`,
          ] as const,
        ]
      : []),
  ];
  return section(
    "provenance",
    "What it was measured from",
    html`<dl class="pairs">${pairs.map(([term, value]) => html`<div><dt>${term}</dt><dd>${value}</dd></div>`)}</dl>`,
  );
}

function rateOf({ rateHz, rateUncertaintyHz, timestamps, frameStep }: ReportedTake): Markup {
  const source = timestamps ? ", by a table of times" : "";
  const step = frameStep !== null && frameStep > 1 ? `, every ${frameStep}th frame kept` : "";
  return html`${amount(rateHz, `${wholeOrShort(rateHz)} frames/s`)} ${uncertainty(rateUncertaintyHz, rateHz, "frames/s", 1)}${source}${step}`;
}

function scaleOf(take: ReportedTake): Markup {
  const { metresPerPixel: scale, metresPerPixelUncertainty: u, calibration } = take;
  const text = `${withUnit(scale, "m").replace(" u", " µ")} a pixel`;
  return html`<p>${amount(scale, text)} ${uncertainty(u, scale, "", null)}</p>${calibration && html`<p>${sentence(calibrationText(calibration))}</p>`}${scaleTexts(take).map((line) => html`<p>${sentence(line.replace(/^scale: /, ""))}</p>`)}`;
}

function calibrationText({
  method,
  medium,
  stills,
  sensorOffset,
  binning,
}: NonNullable<ReportedTake["calibration"]>): string {
  return [
    `by a calibration: ${method}, in ${medium}`,
    ...(stills ? [`the length standard is seen in ${stills.join(", ")}`] : []),
    ...(sensorOffset ? [`top left sensor pixel ${pointText(sensorOffset)}`] : []),
    ...(binning === undefined ? [] : [`binning ${binning}`]),
  ].join("; ");
}

/** One standard uncertainty, in the unit and in percent. */
function uncertainty(u: number | null, value: number, unit: string, size: number | null): string {
  if (u === null) return "(its uncertainty was not stated)";
  if (u === 0) return "(stated as exact)";
  const share = `${twoDigits((100 * u) / value)}\u202f%`;
  return size === null ? `± ${share} (k = 1)` : `± ${twoDigits(u / size)} ${unit} (${share}, k = 1)`;
}

function inputs(take: ReportedTake): Pair[] {
  const seconds = (value: number) => amount(value, withUnit(value, "s").replace(" u", " µ"));
  const exposure: Pair = [
    "exposure",
    take.exposureSeconds === null ? "not stated" : seconds(take.exposureSeconds),
  ];
  const pairs: (Pair | false)[] = [
    exposure,
    take.lightPulseSeconds !== undefined && ["light pulse", seconds(take.lightPulseSeconds)],
    take.rowTimeSeconds !== undefined && ["time from row to row", seconds(take.rowTimeSeconds)],
    take.distanceMetres !== undefined && [
      "camera to the centre of the sphere",
      amount(take.distanceMetres, withUnit(take.distanceMetres, "m")),
    ],
    take.polarity !== null && ["polarity", take.polarity],
    take.front !== undefined && ["front", `number ${take.front}`],
    take.model !== undefined && ["model asked for", take.model],
    take.transfer !== undefined && ["transfer function undone", take.transfer],
    take.raw !== undefined && ["samples read as", typeset(take.raw)],
    take.skipBad === true && ["damaged frames", "left out"],
  ];
  return pairs.filter((pair) => pair !== false);
}

function wholeOrShort(value: number): string {
  return Number.isInteger(value) ? wholeNumber(value) : threeDigits(value);
}

function pointText([x, y]: readonly [number, number]): string {
  return `${Number(x.toFixed(1))}, ${Number(y.toFixed(1))}`;
}

import type { ReportedResult, ReportedTake } from "../words/reported-result.js";
import { roundPair, twoDigits } from "../words/round.js";
import { framesTexts, scaleTexts } from "../words/take-text.js";
import { withUnit } from "../words/with-unit.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { amount } from "./quantity.js";
import { choices } from "./stated-keys.js";
import { sentence, typeset } from "./typeset.js";

type Pair = readonly [term: string, value: Markup | string];

/** Significant digits of an input whose uncertainty is not stated: as many as a person gives. */
const AS_STATED = 8;
const ZERO_CELSIUS = 273.15;

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
  return html`${amount(rateHz, `${grouped(rateHz, rateUncertaintyHz)} frames/s`)} ${uncertainty(rateUncertaintyHz, rateHz, "frames/s", 1)}${source}${step}`;
}

function scaleOf(take: ReportedTake): Markup {
  const { metresPerPixel: scale, metresPerPixelUncertainty: u, calibration } = take;
  const text = `${micro(withUnit(scale, "m", digitsOf(scale, u)))} a pixel`;
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
  const seconds = (value: number) =>
    amount(value, `${value < 0 ? "−" : ""}${micro(withUnit(Math.abs(value), "s", AS_STATED))}`);
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
      distanceOf(take.distanceMetres, take.distanceUncertaintyMetres ?? null),
    ],
    take.airTemperatureKelvin !== undefined && [
      "temperature of the air",
      temperatureOf(take.airTemperatureKelvin, take.airTemperatureUncertaintyKelvin ?? null),
    ],
    take.startTimeSeconds !== undefined && ["start of the motion", seconds(take.startTimeSeconds)],
    take.polarity !== null && ["polarity", take.polarity],
    take.front !== undefined && ["front", `number ${take.front}`],
    take.model !== undefined && ["model asked for", take.model],
    take.transfer !== undefined && ["transfer function undone", take.transfer],
    take.raw !== undefined && ["samples read as", typeset(take.raw)],
    take.skipBad === true && ["damaged frames", "left out"],
  ];
  return pairs.filter((pair) => pair !== false);
}

function distanceOf(metres: number, u: number | null): Markup {
  return html`${amount(metres, withUnit(metres, "m", digitsOf(metres, u)))} ${uncertainty(u, metres, "m", 1)}`;
}

function temperatureOf(kelvin: number, u: number | null): Markup {
  const celsius = Number((kelvin - ZERO_CELSIUS).toPrecision(AS_STATED));
  if (u === null || u === 0)
    return html`${amount(kelvin, `${celsius} °C`)} ${uncertainty(u, kelvin, "", null)}`;
  const rounded = roundPair(celsius, u);
  return html`${amount(kelvin, `${rounded.value} °C`)} ± ${rounded.halfWidth} °C (k = 1)`;
}

/** So many that an input is told to the second digit of its uncertainty: rounded farther it would be another. */
function digitsOf(value: number, u: number | null): number {
  if (!u) return AS_STATED;
  const digits = Math.floor(Math.log10(value)) - Math.floor(Math.log10(u)) + 2;
  return Math.min(15, Math.max(3, digits));
}

function grouped(value: number, u: number | null): string {
  const digits = Number.isInteger(value) ? 21 : digitsOf(value, u);
  return value.toLocaleString("en-US", { maximumSignificantDigits: digits });
}

const micro = (text: string): string => text.replace(" u", " µ");

function pointText([x, y]: readonly [number, number]): string {
  return `${Number(x.toFixed(1))}, ${Number(y.toFixed(1))}`;
}

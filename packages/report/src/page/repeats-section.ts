import { folderOfTake } from "../words/folder-of-take.js";
import { intervalText, readingText } from "../words/front-text.js";
import { roundPair, twoDigits } from "../words/round.js";
import { percentText } from "../words/with-unit.js";
import { chart } from "./chart.js";
import { figure, section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { amount } from "./quantity.js";
import type { SummaryRepeats, SummaryTake } from "./summary-input.js";
import { typeset } from "./typeset.js";

const ROW = 26;
const LONGEST_NAME = 14;

/** The takes of one folder as repeats of one event: their mean, what they scatter by within and between themselves, and which disagree. */
export async function repeatsSection(
  repeats: SummaryRepeats,
  takes: readonly SummaryTake[],
  number: number,
): Promise<Markup> {
  const { folder, mean, betweenTakeStandardDeviation: between, disagreeing, chance } = repeats;
  const { value, halfWidth } = roundPair(mean.value, mean.expandedUncertainty);
  const count = repeats.takes.length;
  const others = takes.filter(
    ({ take, status, sameEventAs }) =>
      status === "measured" &&
      sameEventAs === null &&
      folderOfTake(take) === folder &&
      !repeats.takes.includes(take),
  ).length;
  const reading = mean.complete ? "" : ` ${readingText(mean.missing)}`;
  const agreement =
    disagreeing.length > 0
      ? `${disagreeing.join(", ")} ${disagreement(disagreeing.length, count)}: look at ${disagreeing.length === 1 ? "it" : "them"} before you use the mean.`
      : chance < 0.05
        ? `The takes differ by more than their own uncertainties explain (so much in ${chance < 0.001 ? "under 0.1 %" : percentText(chance)} of cases), and none stands apart: the event itself, or how it was filmed, varied.`
        : "The takes differ by no more than their own uncertainties explain.";
  return section(
    `repeats-${number}`,
    folder === "." ? "The takes together" : `The takes of ${folder} together`,
    html`<p class="lead">Mean of ${count} takes: <strong>${amount(mean.value, `${value}\u00a0±\u00a0${halfWidth} m/s`)}</strong>, if they are repeats of one event: with 95\u202f% confidence ${typeset(intervalText(mean))}.${reading}</p>
${others > 0 && html`<p>Only takes that measured the same are put together, here: ${repeats.measurand}. ${others} more of the folder measured something else.</p>`}
<p>${typeset(agreement)}</p>`,
    figure(
      await spread(repeats, takes),
      html`Points: the takes. Lines: twice the standard uncertainty that each has by itself; scale, rate and way of reading, where takes share them, would shift all alike and are not in the lines. Band: the mean with its 95\u202f% interval, these included.`,
    ),
    html`<dl class="pairs">${pairs([
      [
        "Within a take",
        `${twoDigits(repeats.withinTakeStandardDeviation)} m/s, standard deviation by the takes' own budgets (repeatability)`,
      ],
      [
        "Between takes",
        between > 0 ? `${twoDigits(between)} m/s, standard deviation beyond that` : "none seen beyond that",
      ],
      [
        "One more take",
        `would scatter by ${twoDigits(repeats.intermediatePrecision)} m/s, standard deviation (intermediate precision)`,
      ],
      ["Shared", sharedText(repeats)],
    ])}</dl>`,
  );
}

/** Of two takes neither can be told to be the one that is off. */
function disagreement(apart: number, count: number): string {
  if (count === 2) return "disagree with each other";
  return apart === 1 ? "disagrees with the others" : "disagree with the others";
}

const pairs = (rows: readonly (readonly [string, string])[]): Markup[] =>
  rows.map(([term, text]) => html`<div><dt>${term}</dt><dd>${typeset(text)}</dd></div>`);

function sharedText({ shared }: SummaryRepeats): string {
  const known = shared.filter(({ standardUncertainty: u }) => u > 0);
  if (known.length === 0) return "nothing with an uncertainty";
  const parts = known.map(({ source, standardUncertainty: u }) => `${source} ${twoDigits(u)} m/s`);
  return `${parts.join(", ")}: standard uncertainties that more takes do not shrink`;
}

async function spread(
  { takes: names, mean, ownUncertainties }: SummaryRepeats,
  takes: readonly SummaryTake[],
): Promise<Markup> {
  const speeds = new Map(takes.map(({ take, speed }) => [take, speed?.value ?? Number.NaN]));
  const rows = names.map((name, k) => {
    const speed = speeds.get(name)!;
    return { name, speed, low: speed - 2 * ownUncertainties[k], high: speed + 2 * ownUncertainties[k] };
  });
  const band = [{ low: mean.value - mean.expandedUncertainty, high: mean.value + mean.expandedUncertainty }];
  const values = rows.map(({ speed }) => speed);
  const said = `Speeds of ${names.length} takes, from ${Math.min(...values).toPrecision(4)} to ${Math.max(...values).toPrecision(4)} m/s, about their mean of ${mean.value.toPrecision(4)} m/s.`;
  return chart(said, (width, plot) => ({
    height: 100 + ROW * names.length,
    marginLeft: 130,
    x: { label: "speed, m/s", ticks: width / 130, grid: true, tickFormat: String },
    y: { label: null, domain: names, type: "point", padding: 0.7, tickSize: 0, tickFormat: shortName },
    marks: [
      plot.rectX(band, { x1: "low", x2: "high", fill: "var(--band)" }),
      plot.ruleX([mean.value], { stroke: "var(--accent)", strokeWidth: 2 }),
      plot.ruleY(rows, { y: "name", x1: "low", x2: "high", strokeWidth: 2 }),
      plot.dot(rows, { y: "name", x: "speed", r: 4.5, fill: "currentColor" }),
    ],
  }));
}

function shortName(name: string): string {
  const last = name.slice(name.lastIndexOf("/") + 1);
  return last.length > LONGEST_NAME ? `…${last.slice(1 - LONGEST_NAME)}` : last;
}

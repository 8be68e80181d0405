import {
  type BudgetRow,
  budgetRows,
  effectsLeftOut,
  freedomText,
  relativeText,
  sharedEstimate,
} from "../words/budget-rows.js";
import type { ReportedResult, ReportedSpeed } from "../words/reported-result.js";
import { twoDigits } from "../words/round.js";
import { chart } from "./chart.js";
import { figure, section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { amount } from "./quantity.js";
import { sentence, typeset } from "./typeset.js";

/** So many bars at most; the table below holds all lines. */
const BARS = 8;

/** The uncertainty budget as bars with their figures, as a table, and what is not in it. */
export async function budgetSection({ speed }: ReportedResult): Promise<Markup | null> {
  if (!speed) return null;
  const rows = budgetRows(speed);
  const bars = rows.filter(({ standardUncertainty }) => standardUncertainty > 0).slice(0, BARS);
  const shared = sharedEstimate(speed);
  return section(
    "uncertainty",
    "Where the uncertainty comes from",
    bars.length > 0 && (await barFigure(bars)),
    table(rows, speed),
    html`<p class="small">u: one standard uncertainty (k = 1), as JCGM 100:2008 has it. The interval of the answer is ${speed.coverageFactor.toFixed(2)} times the combined one.${shared !== null && ` ${sentence(shared)}`}</p>`,
    leftOut(speed),
  );
}

async function barFigure(bars: readonly BudgetRow[]): Promise<Markup> {
  const text = bars.map(({ source, uncertainty, share }) => `${source} ${uncertainty} m/s, ${share}`);
  const drawn = await chart(
    `Bars of the contributions to the uncertainty of the speed, largest first: ${text.join("; ")} of the variance.`,
    (_width, plot) => ({
      height: 46 * bars.length + 12,
      marginLeft: 2,
      marginRight: 2,
      marginTop: 4,
      marginBottom: 8,
      x: { axis: null, domain: [0, bars[0].standardUncertainty] },
      y: { axis: null, domain: bars.map(({ source }) => source), paddingInner: 0, paddingOuter: 0 },
      marks: [
        plot.barX(bars, {
          x: "standardUncertainty",
          y: "source",
          fill: "var(--accent)",
          insetTop: 24,
          insetBottom: 8,
        }),
        plot.text(bars, {
          x: 0,
          y: "source",
          text: (row: BudgetRow) => `${row.source}: ${row.uncertainty} m/s, ${row.share} of the variance`,
          textAnchor: "start",
          dy: -10,
          fill: "currentColor",
        }),
      ],
    }),
  );
  return figure(
    drawn,
    "Contributions to the uncertainty of the speed, one standard uncertainty each, largest first.",
  );
}

function table(rows: readonly BudgetRow[], speed: ReportedSpeed): Markup {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Table of the uncertainty budget"><table><thead><tr><th scope="col">source</th><th scope="col" class="number">u, m/s</th><th scope="col" class="number">of the speed</th><th scope="col" class="number">of the variance</th><th scope="col">type</th><th scope="col" class="number">degrees of freedom</th></tr></thead><tbody>${rows.map(
    (row) =>
      html`<tr><th scope="row">${row.source}</th><td class="number">${row.isExact ? "exact" : amount(row.standardUncertainty, row.uncertainty)}</td><td class="number">${row.isExact ? "" : typeset(row.relative)}</td><td class="number">${row.isExact ? "" : typeset(row.share)}</td><td>${row.type}</td><td class="number">${row.freedom}</td></tr>`,
  )}</tbody><tfoot><tr><th scope="row">combined</th><td class="number">${amount(speed.standardUncertainty, twoDigits(speed.standardUncertainty))}</td><td class="number">${typeset(relativeText(speed))}</td><td></td><td></td><td class="number">${freedomText(speed.degreesOfFreedom)}</td></tr></tfoot></table></div>`;
}

function leftOut(speed: ReportedSpeed): Markup | null {
  const absent = effectsLeftOut(speed);
  if (absent.length === 0) return null;
  return html`<h3>Not evaluated, and not in the interval unless it says so</h3><dl class="pairs">${absent.map(({ source, reason }) => html`<div><dt>${source}</dt><dd>${sentence(reason)}</dd></div>`)}</dl>`;
}

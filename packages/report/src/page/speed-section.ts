import { chooseUnit } from "../drawing/choose-unit.js";
import { timeOrigin } from "../drawing/time-axis.js";
import type { ReportedResult } from "../words/reported-result.js";
import { chart } from "./chart.js";
import { figure, section } from "./figure.js";
import { html, type Markup } from "./html.js";

/** The speed along the way with its band, beside the speed that is the answer. */
export async function speedSection({ speedAlong, speed, take }: ReportedResult): Promise<Markup | null> {
  if (!speedAlong || !speed) return null;
  const { timeSeconds, speed: values, halfWidth } = speedAlong;
  const last = timeSeconds.length - 1;
  const unit = chooseUnit(timeSeconds[last] - timeSeconds[0], "s");
  const origin = timeOrigin(timeSeconds[0] * take.rateHz, timeSeconds[last] * take.rateHz);
  const rows = timeSeconds.map((seconds, k) => ({
    time: (seconds - origin / take.rateHz) / unit.size,
    speed: values[k],
    low: values[k] - halfWidth[k],
    high: values[k] + halfWidth[k],
  }));
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const drawn = await chart(
    `Speed against time, smoothed without a model, from ${least.toPrecision(3)} to ${most.toPrecision(3)} m/s, with its 95 % band and the speed that is the answer.`,
    (width, plot) => ({
      height: width > 500 ? 280 : 240,
      grid: true,
      x: { label: `time since frame ${origin}, ${unit.name}`, ticks: width / 110 },
      y: { label: "speed, m/s", nice: true, ticks: 5, tickFormat: String },
      marks: [
        plot.areaY(rows, { x: "time", y1: "low", y2: "high", fill: "var(--band)" }),
        plot.line(rows, { x: "time", y: "speed", stroke: "currentColor", strokeWidth: 2 }),
        plot.ruleY([speed.value], { stroke: "var(--accent)", strokeWidth: 2, strokeDasharray: "8 5" }),
      ],
    }),
  );
  return section(
    "speed",
    "The speed along the way",
    figure(
      drawn,
      html`Line and band: the smoothed speed without a model, and where it lies with 95\u202f% confidence at each time. Dashed: the speed that is the answer. What rate and scale are unsure of shifts all alike, and is not in the band.`,
    ),
  );
}

import { extent, max } from "d3-array";
import { chooseUnit } from "../drawing/choose-unit.js";
import { timeOrigin } from "../drawing/time-axis.js";
import type { ReportedResult, ReportedTrack } from "../words/reported-result.js";
import { chart } from "./chart.js";
import { figure, section } from "./figure.js";
import { html, type Markup } from "./html.js";

/** Position against time with the fit, and the residuals below. */
export async function fitSection({ track, take, model }: ReportedResult): Promise<Markup | null> {
  if (!track || track.frame.length === 0) return null;
  const { rows, time, length, small, origin } = inReadableUnits(track, take.rateHz);
  const used = rows.filter((row) => row.used);
  const rejected = rows.filter((row) => !row.used);
  const timeLabel = `time since frame ${origin}, ${time}`;
  const position = await chart(
    `Position of the front against time, ${used.length} frames, with the fitted ${model?.name === "constant" ? "straight line" : `model, ${model?.name}`}.`,
    (width, plot) => ({
      height: width > 500 ? 380 : 280,
      grid: true,
      x: { label: timeLabel, ticks: width / 110 },
      y: { label: `position along the path, ${length}`, nice: true, ticks: 6 },
      marks: [
        plot.line(used, { x: "time", y: "fitted", stroke: "var(--accent)", strokeWidth: 2 }),
        plot.dot(used, {
          x: "time",
          y: "position",
          r: width > 500 ? 3.2 : 2.4,
          stroke: "currentColor",
          fill: "var(--paper)",
        }),
        plot.dot(rejected, {
          x: "time",
          y: "position",
          symbol: "times",
          r: 4,
          stroke: "var(--alert)",
          strokeWidth: 2,
        }),
      ],
    }),
  );
  const shown = used.length > 1 ? used : rows;
  const reach = 1.15 * (max(shown, ({ residual, u }) => Math.abs(residual) + u) ?? 1);
  const inReach = rows.filter(({ residual }) => Math.abs(residual) <= reach);
  const residuals = await chart(
    `Residuals, position minus fit, against time, with one standard uncertainty of each reading; they lie within ${reach.toPrecision(2)} ${small}.`,
    (width, plot) => ({
      height: 220,
      grid: true,
      x: { label: timeLabel, ticks: width / 110 },
      y: { label: `position minus fit, ${small}`, domain: [-reach, reach], ticks: 5 },
      marks: [
        plot.ruleY([0], { stroke: "var(--accent)", strokeWidth: 2 }),
        plot.ruleX(inReach, {
          x: "time",
          y1: (d: Row) => Math.max(-reach, d.residual - d.u),
          y2: (d: Row) => Math.min(reach, d.residual + d.u),
          stroke: "currentColor",
          strokeOpacity: 0.6,
        }),
        plot.dot(
          inReach.filter((row) => row.used),
          {
            x: "time",
            y: "residual",
            r: width > 500 ? 3.2 : 2.4,
            stroke: "currentColor",
            fill: "var(--paper)",
          },
        ),
        plot.dot(
          inReach.filter((row) => !row.used),
          { x: "time", y: "residual", symbol: "times", r: 4, stroke: "var(--alert)", strokeWidth: 2 },
        ),
      ],
    }),
  );
  const out = rejected.length;
  return section(
    "fit",
    "Position against time",
    figure(
      html`${position}${residuals}`,
      html`Above: where the front was in each of ${used.length} frames, and the fit through them. Below: what the fit leaves, many times enlarged, with one standard uncertainty of each reading.${out > 0 && html` ${out === 1 ? "One frame was" : `${out} frames were`} rejected (crosses): ${rejected.map(({ frame }) => frame).join(", ")}.`}`,
    ),
  );
}

interface Row {
  readonly frame: number;
  readonly time: number;
  readonly position: number;
  readonly fitted: number;
  readonly residual: number;
  readonly u: number;
  readonly used: boolean;
}

function inReadableUnits(track: ReportedTrack, rateHz: number) {
  const { frame, timeSeconds, positionMetres, fittedMetres, residualMetres, standardUncertaintyMetres } =
    track;
  const last = timeSeconds.length - 1;
  const origin = timeOrigin(
    timeSeconds[0] * rateHz,
    Math.max(timeSeconds[last] * rateHz, timeSeconds[0] * rateHz + 1),
  );
  const time = chooseUnit(timeSeconds[last] - timeSeconds[0], "s");
  const length = chooseUnit(spanOf(positionMetres), "m");
  const ofUsed = residualMetres.filter((_, k) => track.used[k]).map(Math.abs);
  const small = chooseUnit(max([...ofUsed, ...standardUncertaintyMetres]) ?? 0, "m");
  const rows = frame.map(
    (number, k): Row => ({
      frame: number,
      time: (timeSeconds[k] - origin / rateHz) / time.size,
      position: positionMetres[k] / length.size,
      fitted: fittedMetres[k] / length.size,
      residual: residualMetres[k] / small.size,
      u: standardUncertaintyMetres[k] / small.size,
      used: track.used[k],
    }),
  );
  return { rows, time: time.name, length: length.name, small: small.name, origin };
}

function spanOf(values: readonly number[]): number {
  const [least = 0, most = 0] = extent(values);
  return most - least;
}

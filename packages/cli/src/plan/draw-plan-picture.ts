import { withUnit } from "@frontpace/report/words";
import type { PlanReport } from "@frontpace/take";
import { speedRangeText } from "./speed-range-text.js";

/** The picture of the trade in a plan, SVG. */
export async function drawPlanPicture({ modes, chosen, relax, request, take }: PlanReport): Promise<string> {
  const { drawPlan } = await import("@frontpace/report");
  const { blurPixels: limit, framesAcross = 3, lengthMetres, speedMetresPerSecond } = request;
  const wish = `${speedRangeText(speedMetresPerSecond)} over ${withUnit(lengthMetres, "m")}`;
  return drawPlan({
    modes: modes.map(({ columns, rows, framesAcross: frames, blurPixels, meets, interpolation }) => ({
      columns,
      rows,
      framesAcross: frames,
      framesForBlur: limit === undefined ? null : (frames * blurPixels) / limit,
      meets,
      interpolated: interpolation !== null,
    })),
    chosen,
    // Modes stand in their order, the nearest first where none meets the wish.
    ...(relax !== null && { nearest: { mode: 0, relax } }),
    framesWanted: framesAcross,
    title: `${take === null ? "" : `${take}: `}${wish}${chosen === null ? ": no mode meets the wish" : ""}`,
  });
}

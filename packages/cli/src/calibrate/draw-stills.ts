import type { Calibration } from "@frontpace/take";

/** A picture of every still with the points that were used, by file name. */
export async function drawStills({ stills, scale }: Calibration): Promise<Record<string, Uint8Array>> {
  const { drawFoundPoints } = await import("@frontpace/report");
  const { method } = scale.madeFrom;
  const pictures: Record<string, Uint8Array> = {};
  for (const [k, { name, data, rows, columns, points }] of stills.entries()) {
    const file = stills.length === 1 ? "points.png" : `points-${k + 1}.png`;
    pictures[file] = await drawFoundPoints({
      data,
      shape: [rows, columns],
      points,
      joined: method === "lengths" ? "pairs" : "axes",
      title: `${name}: ${describePoints(method, points.length)}`,
    });
  }
  return pictures;
}

function describePoints(method: Calibration["scale"]["madeFrom"]["method"], count: number): string {
  if (method === "lengths") return count === 2 ? "one length" : `${count / 2} lengths`;
  if (method === "points") return `${count} points`;
  return `${count} ${method}`;
}

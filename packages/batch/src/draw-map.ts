import { speedText } from "@frontpace/report/words";
import type { MapQuantities, Measurement } from "@frontpace/take";

/** The pictures of an arrival map, by file name: isochrones, and where local speeds are said, their map and their rose. */
export async function drawMap(
  { result, arrival }: Measurement,
  { shape, speed, speedUncertainty, directionDegrees }: MapQuantities,
): Promise<Record<string, string | Uint8Array>> {
  if (!arrival) return {};
  const { drawIsochrones, drawSpeedMap, drawSpeedRose } = await import("@frontpace/report");
  const { map, rateHz, still } = arrival;
  const title = (picture: string) => `${result.take.name}: ${picture} (${speedText(result)})`;
  const cells = (values: Float64Array) => ({ values, shape, cell: map.cell });
  return {
    "isochrones.png": await drawIsochrones({
      ...still,
      arrival: cells(map.arrival),
      standardUncertainty: map.standardUncertainty,
      rateHz,
      title: title("times of arrival"),
    }),
    ...(speed &&
      speedUncertainty &&
      directionDegrees && {
        "speed-map.png": await drawSpeedMap({
          speed: cells(speed),
          standardUncertainty: speedUncertainty,
          shape: still.shape,
          title: title("local speed"),
        }),
        "speed-rose.svg": drawSpeedRose({
          speed,
          direction: directionDegrees,
          title: `${result.take.name}: speed against direction`,
        }),
      }),
  };
}

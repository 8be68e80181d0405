import { branchText, speedText } from "@frontpace/report/words";
import type { MapQuantities, Measurement } from "@frontpace/take";
import { drawMap } from "./draw-map.js";
import { drawSearch } from "./draw-search.js";

/** The pictures that prove a result, by file name: the search of a long take, the courses of cracks, the arrival map, frames of the event where they
 *  were kept, the streak where a frame was measured, the fit where there is a line.
 *  @param quantities  of the arrival map, where one goes with the result */
export async function drawPictures(
  measurement: Measurement,
  quantities: MapQuantities | null,
): Promise<Record<string, string | Uint8Array>> {
  const { search, streak, cracks } = measurement;
  // Each waits for its PNG to be packed, which is done beside the others' drawing.
  const drawn: Record<string, string | Uint8Array>[] = await Promise.all([
    search ? { "search.svg": await drawSearch(search) } : {},
    cracks ? drawCracks(measurement, cracks) : {},
    quantities ? drawMap(measurement, quantities) : {},
    measurement.eventPictures.length > 0 ? drawEvent(measurement) : {},
    streak.shape[0] > 0 ? drawMeasured(measurement) : {},
  ]);
  return Object.assign({}, ...drawn);
}

async function drawCracks(
  { result }: Measurement,
  { courses, data, shape }: NonNullable<Measurement["cracks"]>,
): Promise<Record<string, Uint8Array>> {
  const { drawBranches } = await import("@frontpace/report");
  const branches = (result.branches ?? []).map((branch, k) => ({
    points: courses[k],
    text: branchText(branch),
  }));
  const title = `${result.take.name}: ${speedText(result)}`;
  return { "cracks.png": await drawBranches({ data, shape, branches, title }) };
}

async function drawEvent({ eventPictures }: Measurement): Promise<Record<string, Uint8Array>> {
  const { drawStillPictures } = await import("@frontpace/report");
  const pictures = await drawStillPictures(eventPictures);
  return Object.fromEntries(pictures.map((png, k) => [`frame-${eventPictures[k].moment}.png`, png]));
}

async function drawMeasured(measurement: Measurement): Promise<Record<string, string | Uint8Array>> {
  const { drawFit, drawStreak, drawStreakSamples } = await import("@frontpace/report");
  const { result, track, streak, line, lineInPicture, course } = measurement;
  const { shape, frameNumbers, path } = streak;
  const length = Math.hypot(path[1][0] - path[0][0], path[1][1] - path[0][1]);
  const step = shape[1] > 1 ? length / (shape[1] - 1) : 1;
  const title = `${result.take.name}: ${speedText(result)}`;
  const showsDepartures = result.front?.channel === "departures" && streak.departures !== undefined;
  const band = {
    data: showsDepartures ? streak.departures : streak.data,
    quantity: showsDepartures ? "log mean square departure" : "brightness",
    shape,
    frameNumbers,
    positionsPixels: { first: 0, step },
  };
  const bothOf = async (streakPicture: Parameters<typeof drawStreak>[0]) => {
    const [samples, whole] = await Promise.all([
      drawStreakSamples({ ...band, title }),
      drawStreak(streakPicture),
    ]);
    return { "streak-samples.png": samples, "streak.png": whole };
  };
  if (line === null || result.status !== "measured") return bothOf({ ...band, title });
  // Where extra copies were stored the frames stand at their times; the line runs through these.
  const points = track.map((row) => ({ ...row, frame: row.timeFrames ?? row.frame }));
  const used = points.filter((point) => point.used).map(({ frame }) => frame);
  const fitted = { ...line, firstFrame: used[0], lastFrame: used[used.length - 1] };
  const { rateHz, metresPerPixel } = result.take;
  const model = course && { fitted: `model ${result.model.name}` };
  const seen = lineInPicture
    ? { curve: lineInPicture, fitted: model?.fitted ?? "fitted line, straight in the plane" }
    : { line: fitted };
  const even = lineInPicture
    ? points.map((point) => ({ ...point, positionPixels: point.positionMetres / metresPerPixel }))
    : points;
  return {
    ...(await bothOf({ ...band, ...seen, points, title })),
    "fit.svg": drawFit({
      points: even,
      line: fitted,
      ...(course && { curve: course, ...model }),
      rateHz,
      metresPerPixel,
      title,
    }),
  };
}

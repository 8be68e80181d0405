import { type ArrivalMap, radialPositions, type VaryingCircle } from "@frontpace/arrival";
import { fitMotion } from "@frontpace/fit";
import type { FrameSource, FrontPosition, FrontTrack, TrackOutcome } from "@frontpace/tracker";
import type { FrameRange } from "../settings/check-against-frames.js";
import type { MeasureContext } from "../types.js";
import type { PolarFrames } from "./polar-frames.js";

/** Fewer positions show no course. */
const FEWEST = 8;

/** Follows a circle whose speed changes on the way, in every frame by its radial profile: the tracker, which follows straight courses, keeps
 *  of such a one the part that is nearly straight. Its line here is that of a constant speed through all positions, as
 *  wide as these leave it open.
 *  @param circle  by which it is known about when the front was where
 *  @param toRadii  px along the ray by px of the picture, where a sphere is seen by its limb
 *  @returns not-found where fewer than eight frames show it */
export async function followRadius(
  { source, ray }: PolarFrames,
  circle: VaryingCircle,
  map: ArrivalMap,
  { start, end }: FrameRange,
  toRadii: ((positionPixels: number) => number) | null,
  { signal }: MeasureContext,
): Promise<TrackOutcome> {
  const numbers = source.numbers.slice(start, end);
  const data = await meanOfRays(source, start, end, signal);
  const [[x1, y1], [x2, y2]] = ray;
  const [ox, oy] = circle.origin;
  const first = Math.hypot(x1 - ox, y1 - oy);
  const [least, most] = circle.radii;
  const arrival = Array.from({ length: source.columns }, (_, k) =>
    first + k >= least && first + k <= most ? circle.timeAt(first + k) : Number.NaN,
  );
  const streak = {
    data,
    shape: [numbers.length, source.columns] as const,
    frameNumbers: numbers,
    path: ray,
    width: source.rows,
    effectiveRows: null,
  };
  const { timeFrames } = source;
  const times = timeFrames ? numbers.map((number) => timeFrames(number)) : numbers;
  const found = radialPositions({ ...streak, times, arrival, kind: map.kind });
  if (found.length < FEWEST) {
    const message = `a circle that ${map.kind === "stays" ? "stays" : "passes"} is seen, whose speed changes on the way, and only ${found.length} frames tell its radius; at least ${FEWEST} are needed. Give a path along a radius, and the frames in which it runs there`;
    return { status: "not-found", reason: "not-resolved", message, streak, warnings: [] };
  }
  const length = Math.hypot(x2 - x1, y2 - y1) || 1;
  return {
    status: "tracked",
    track: {
      ...straightCourse(found, numbers, times, toRadii ?? ((pixels) => pixels)),
      channel: "brightness",
      shape: map.kind === "stays" ? "step" : "pulse",
      polarity: polarityOf(map, found),
      direction: [(x2 - x1) / length, (y2 - y1) / length],
      tilt: null,
      look: null,
    },
    fronts: [],
    alternatives: [],
    streak,
    warnings: [
      {
        code: "speed-not-constant",
        message:
          "the circle's speed changes on the way: a constant one does not describe its radii. Ask for a model of its motion (--model), or give the frames between which a mean is wanted",
      },
    ],
  };
}

/** A ring that passes shows both senses in a map, where it is slow. */
function polarityOf(
  { kind, polarity }: ArrivalMap,
  found: ReturnType<typeof radialPositions>,
): FrontTrack["polarity"] {
  if (kind === "stays") return polarity === "dark" ? "dark" : "bright";
  return found.filter(({ height }) => height < 0).length > found.length / 2 ? "dark" : "bright";
}

async function meanOfRays(
  { rows, columns, frames }: FrameSource,
  start: number,
  end: number,
  signal: AbortSignal | undefined,
): Promise<Float64Array> {
  const data = new Float64Array((end - start) * columns);
  for await (const { index, frame } of frames({ start, end }, undefined, signal ? { signal } : {})) {
    signal?.throwIfAborted();
    const at = (index - start) * columns;
    for (let r = 0; r < rows; r++) for (let c = 0; c < columns; c++) data[at + c] += frame.get(r, c);
  }
  for (let k = 0; k < data.length; k++) data[k] /= rows;
  return data;
}

/** Positions with the straight line through them. */
function straightCourse(
  found: ReturnType<typeof radialPositions>,
  numbers: readonly number[],
  frameTimes: readonly number[],
  straight: (pixels: number) => number,
): Pick<FrontTrack, "positions" | "line" | "firstFrame" | "lastFrame"> {
  const times = found.map(({ index }) => frameTimes[index]);
  const isTimed = frameTimes !== numbers;
  const { model, speed } = fitMotion(
    times,
    found.map(({ position }) => straight(position)),
    { model: "constant", standardUncertainty: found.map(({ standardUncertainty }) => standardUncertainty) },
  );
  const notEvaluated = {
    notEvaluated: "the front was followed by its radial profile, frame by frame, which does not tell it",
  };
  return {
    positions: found.map(
      ({ index, position, standardUncertainty }, k): FrontPosition => ({
        frame: numbers[index],
        ...(isTimed && { timeFrames: times[k] }),
        positionPixels: position,
        standardUncertaintyPixels: standardUncertainty,
        residualPixels: model.residuals[k],
        used: true,
      }),
    ),
    line: {
      interceptPixels: model.positionAt(speed.time) - speed.value * speed.time,
      slopePixelsPerFrame: speed.value,
      standardUncertaintyPixelsPerFrame: speed.standardUncertainty,
      degreesOfFreedom: speed.degreesOfFreedom,
      wanderShare: 0,
      contributions: {
        frontDefinition: notEvaluated,
        timeBase: notEvaluated,
        motion: notEvaluated,
        modelChoice: notEvaluated,
      },
    },
    firstFrame: numbers[found[0].index],
    lastFrame: numbers[found[found.length - 1].index],
  };
}

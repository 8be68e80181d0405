import type { TrackOutcome } from "@frontpace/tracker";

/** What lies between two standard deviations before the middle of an edge and two behind it takes up this share of the way, at most: beyond it most places
 *  change for as long as the crossing takes, and there is no time at which it arrives anywhere. A front of 20 px on a way of 300 px is well below. */
const WIDEST = 1 / 3;
const DEVIATIONS = 4;
/** Short ways, as of rays about an origin near a border, are crossed by sharp edges, too: these are narrower than this standard deviation, px. */
const SHARP = 5;

/** The outcome of a front that was looked for in the whole picture, not found where what runs has no edge: a shadow's soft border, a cloud, or a lamp
 *  that fades unevenly runs across the picture as a front does, and the tracker follows it surely. Departures of pixels have no edge of which a
 *  width is known, and pass.
 *  @param front  number of the one that was asked for; null: the only one. In the direction of another front one has no edge, either */
export function withEdge(outcome: TrackOutcome, front: number | null): TrackOutcome {
  if (outcome.status !== "tracked" || !outcome.track.look) return outcome;
  const { streak, track } = outcome;
  const [[x1, y1], [x2, y2]] = streak.path;
  const way = Math.hypot(x2 - x1, y2 - y1);
  const blur = outcome.track.look.edgeBlurPixels;
  const width = DEVIATIONS * blur;
  if (blur < SHARP || width <= WIDEST * way) return outcome;
  const speed = Math.abs(track.line.slopePixelsPerFrame);
  const notFound = { status: "not-found", streak, warnings: [] } as const;
  if (front !== null) {
    const place = ([x, y]: readonly [number, number]) => `(${round(x)}, ${round(y)})`;
    const message = `front ${front} was asked for, and no such front is seen along the path from ${place(streak.path[0])} to ${place(streak.path[1])}: what runs there has no edge across it, but changes over ${width.toFixed(0)} px of ${way.toFixed(0)} px. A front that runs in another direction than the one by which the path was laid looks like that, and so does a soft border. Give the path that the front runs (--path)`;
    return { ...notFound, reason: "front-not-there", message };
  }
  const message = `the brightness changes in one place after the other, and has no edge: the change is ${width.toFixed(0)} px wide on a way of ${way.toFixed(0)} px, so that places change for ${(width / speed).toPrecision(2)} frames while all of it takes ${(way / speed).toPrecision(2)} to pass the picture. A shadow's soft border, a cloud or a lamp that fades unevenly looks like that. If it is the front, give the path that it runs (--path), or the point that it runs out from (--origin)`;
  return { ...notFound, reason: "no-edge", message };
}

/** px to a tenth. */
function round(value: number): string {
  return String(Math.round(value * 10) / 10);
}

import type { SlopeContribution } from "@frontpace/fit";
import type { FrontTrack, SlopeContribution as TrackedEffect } from "@frontpace/tracker";
import type { CalibratedPath, LengthEffect } from "../path/calibrated-path.js";

/** A line that a budget of this kind has, and why this one lacks it. */
export interface NotEvaluated {
  readonly source: string;
  readonly reason: string;
}

/** What hangs on how the front moved. */
export interface OfMotion {
  /** What the speed of sound leaves open of a shock that tends to it. */
  readonly soundSpeed?: TrackedEffect | null;
  /** What its direction leaves open of a form that moves as a whole, and was followed in it. */
  readonly direction?: TrackedEffect | null;
  /** Whether the front was followed along the radius of a circle. */
  readonly isCircle?: boolean;
  /** What the camera's distance leaves open where radii were corrected by it; null: they were not. */
  readonly limb?: TrackedEffect | null;
}

/** The effects that neither the residuals of the fit nor scale and rate hold: those that the track has figures for, px
 *  a frame, and those that are not evaluated. Every effect named here is in one of the two lists and in no other line.
 *
 *  Type A where the figure comes from the statistics of many readings (registration of frames, scatter of calibrated
 *  points), B where it is half
 *  the spread between ways of reading.
 *  @param calibrated  what a calibration says of those that lie in the picture's geometry
 *  @see JCGM 100:2008, 4.2, 4.3 */
export function effectsBeyondFit(
  { line, tilt }: FrontTrack,
  calibrated: CalibratedPath["effects"] | null = null,
  { soundSpeed = null, direction = null, isCircle = false, limb = null }: OfMotion = {},
): {
  readonly further: readonly SlopeContribution[];
  readonly notEvaluated: readonly NotEvaluated[];
} {
  const { frontDefinition, timeBase, motion, modelChoice } = line.contributions;
  const ofLengths = (effect: LengthEffect, reason: string): TrackedEffect => {
    if (effect === null) return { notEvaluated: reason };
    return {
      standardUncertaintyPixelsPerFrame: effect.relative * Math.abs(line.slopePixelsPerFrame),
      degreesOfFreedom: effect.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
    };
  };
  const effects: readonly (readonly [source: string, type: "A" | "B", effect: TrackedEffect])[] = [
    ...(line.wanderShare === null ? [["wander", "A", { notEvaluated: fewFrames }] as const] : []),
    ["front definition", "B", frontDefinition],
    ["event plane against scale plane", "B", ofLengths(calibrated?.planes ?? null, planes)],
    [
      "obliquity",
      calibrated?.obliquity?.type ?? "B",
      ofLengths(calibrated?.obliquity ?? null, obliquity(tilt)),
    ],
    ["lens", "B", ofLengths(calibrated?.lens ?? null, lens)],
    ["refraction", "B", ofLengths(calibrated?.refraction ?? null, refraction)],
    ["time base", "B", timeBase],
    ["motion of pane or camera", "A", motion],
    ["model choice", "B", modelChoice],
    ...(soundSpeed ? [["speed of sound", "B", soundSpeed] as const] : []),
    ...(direction ? [["direction of the run", "A", direction] as const] : []),
    ...(isCircle ? [["limb of a sphere", "B", limb ?? { notEvaluated: unknownDistance }] as const] : []),
  ];
  const further: SlopeContribution[] = [];
  const notEvaluated: NotEvaluated[] = [];
  for (const [source, type, effect] of effects)
    if ("notEvaluated" in effect) notEvaluated.push({ source, reason: effect.notEvaluated });
    else further.push({ source, type, ...effect });
  return { further, notEvaluated };
}

const fewFrames =
  "fewer than 20 frames place the front, too few to tell its wander from the noise of the readings. The line of the fit carries three times the variance of independent errors instead; more frames would tell";

// Similar triangles: a plane nearer by a share of the camera's distance looks larger by that share.
const planes =
  "how far the front ran from the plane of the length standard is not known: 1 % of the camera's distance makes 1 % of the speed. Film the standard where the front runs, or widen the uncertainty of the scale by it";

// Seen at r = R (1 + (R/Z)²/2), the speed is v (1 + 3 (R/Z)²/2).
const unknownDistance =
  "whether the circle is the limb of a sphere is not known: from a distance Z that of radius R is seen (R/Z)²/2 beyond it, and its speed is read too high by three times that share, 1.5 % where R is a tenth of Z. A circle in a plane has none of it; of a sphere, give the camera's distance from its centre (--distance), or film from farther away";

const lens =
  "the distortion of the lens is not known. Film the length standard in the part of the picture where the path runs";

const refraction =
  "how a window or a glaze bends the light is not known. Film the length standard through the same window";

/** 1 − cos 8° is 1 %. */
function obliquity(tilt: FrontTrack["tilt"]): string {
  const known = tilt === null ? "not known" : `${Math.abs(tilt.degrees).toFixed(1)} degrees`;
  return `the speed is that along the path (tilt of the front against it: ${known}). Whether the camera looks square onto the plane of the front is not known: 8 degrees off shorten lengths by 1 %. Take the scale along the path`;
}

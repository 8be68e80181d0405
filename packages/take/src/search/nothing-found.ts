import type { FindResult } from "@frontpace/finder";

/** What was looked for where nothing was found, and how weak an event would have been seen. */
export function nothingFound({
  frames,
  shortestFrames,
  weakestSeen,
  lightChanges,
}: Pick<FindResult, "frames" | "shortestFrames" | "weakestSeen" | "lightChanges">): {
  readonly reason: "no-event";
  readonly message: string;
} {
  const passing =
    shortestFrames === 1 ? "for what passes" : `for what passes and lasts at least ${shortestFrames} frames`;
  const weakest =
    weakestSeen === null
      ? "there are too few frames to tell how weak an event would have been seen; measure them without a search"
      : `the weakest event that would have been seen changes an area of ${weakestSeen.columns} x ${weakestSeen.rows} px by ${Number(weakestSeen.brightness.toPrecision(2))} units of brightness`;
  const places = lightChanges.map(({ firstFrame, lastFrame }) =>
    firstFrame === lastFrame ? `frame ${firstFrame}` : `frames ${firstFrame} to ${lastFrame}`,
  );
  const light =
    places.length === 0
      ? ""
      : `; the light changes everywhere at once in ${places.join(", ")}, as when a lamp is switched, which is no event`;
  return {
    reason: "no-event",
    message: `${frames === 1 ? "one frame was" : `${frames} frames were`} searched for changes of the picture that stay, and ${passing}; ${weakest}${light}`,
  };
}

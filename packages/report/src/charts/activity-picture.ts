/** What `drawActivity` draws. */
export interface ActivityPicture {
  /** How much the picture differs from that of the frame read before, in order of frame, at least one. */
  readonly activity: readonly { readonly frame: number; readonly strength: number }[];
  /** Strongest first. */
  readonly events: readonly {
    readonly firstFrame: number;
    readonly lastFrame: number;
    readonly kind: "stays" | "passes";
  }[];
  /** Where the light changes everywhere at once, which is no event. Default: nowhere. */
  readonly lightChanges?: readonly { readonly firstFrame: number; readonly lastFrame: number }[];
  /** Frame numbers at the two ends of the picture. */
  readonly firstFrame: number;
  readonly lastFrame: number;
  /** Frames per second, > 0; with it a time scale is drawn. */
  readonly rateHz?: number;
  readonly title: string;
  readonly subtitle?: string;
}

/** Checks a picture before anything is drawn.
 *  @throws RangeError naming argument, rule and value */
export function checkActivityPicture({
  activity,
  events,
  firstFrame,
  lastFrame,
  rateHz,
  lightChanges = [],
}: ActivityPicture): void {
  if (!(Number.isFinite(firstFrame) && Number.isFinite(lastFrame) && firstFrame <= lastFrame))
    throw new RangeError(`firstFrame must be finite and <= lastFrame, got ${firstFrame} and ${lastFrame}`);
  for (const [i, { frame, strength }] of activity.entries()) {
    if (i > 0 && !(frame > activity[i - 1].frame))
      throw new RangeError(
        `activity must be in order of frame, got frame ${frame} behind ${activity[i - 1].frame} at ${i}`,
      );
    if (!(frame >= firstFrame && frame <= lastFrame))
      throw new RangeError(
        `activity[${i}].frame must lie from firstFrame to lastFrame, ${firstFrame} to ${lastFrame}, got ${frame}`,
      );
    if (!(Number.isFinite(strength) && strength >= 0))
      throw new RangeError(`activity[${i}].strength must be finite and >= 0, got ${strength}`);
  }
  const stretches = [
    ...events.map((event, i) => ({ name: `events[${i}]`, event })),
    ...lightChanges.map((event, i) => ({ name: `lightChanges[${i}]`, event })),
  ];
  for (const { name, event } of stretches) {
    const { firstFrame: first, lastFrame: last } = event;
    if (!(first >= firstFrame && last <= lastFrame && first <= last))
      throw new RangeError(
        `${name} must lie from firstFrame to lastFrame, ${firstFrame} to ${lastFrame}, got ${first} to ${last}`,
      );
  }
  if (rateHz !== undefined && !(Number.isFinite(rateHz) && rateHz > 0))
    throw new RangeError(`rateHz must be finite and > 0, got ${rateHz}`);
}

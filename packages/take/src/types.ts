import type { ArrivalMap } from "@frontpace/arrival";
import type { FrameSource, Progress, Streak } from "@frontpace/tracker";
import type { z } from "zod";
import type { FrontPlace } from "./result/front-places.js";
import type { checkSchema } from "./schemas/check-schema.js";
import type { eventsSchema } from "./schemas/events-schema.js";
import type { planSchema } from "./schemas/plan-schema.js";
import type { resultSchema } from "./schemas/result-schema.js";
import type { scaleFileSchema } from "./schemas/scale-schema.js";
import type {
  dryCheckOptionsSchema,
  findOptionsSchema,
  measureOptionsSchema,
  takeFileSchema,
} from "./schemas/take-schema.js";

/** take.json: what is known of one take, beside its frames.
 *  @interface */
export type TakeFile = Readonly<z.infer<typeof takeFileSchema>>;

/** Options of a measurement; each has the name, meaning and unit of the key in take.json and wins over it.
 *  None has a default; rate and scale must come from here or from take.json.
 *  @interface */
export type MeasureOptions = Readonly<z.infer<typeof measureOptionsSchema>>;

/** Options of a search for events. `shortestFrames` (default: frames of 64 µs, at least 8; 32 without a rate): what lasts
 *  so many recorded frames and leaves nothing behind is caught. `thorough` (default false): it is looked for whatever that
 *  costs. `region`: two opposite corners in px, both included; not with a path. The others are as in `MeasureOptions`.
 *  @interface */
export type FindOptions = Readonly<z.infer<typeof findOptionsSchema>>;

/** Options of a dry check. `clockHz`, `clockUncertaintyHz`: a lamp of known frequency that the picture, or the part of it between
 *  the corners `lamp` (both included, px; default: all of it), shows. The others are as in `MeasureOptions`.
 *  @interface */
export type DryCheckOptions = Readonly<z.infer<typeof dryCheckOptionsSchema>>;

/** check.json.
 *  @interface */
export type TakeCheck = Readonly<z.infer<typeof checkSchema>>;

/** What a dry check showed, and the still that is kept with the take. */
export interface DryCheck {
  readonly check: TakeCheck;
  readonly reference: { readonly file: string; readonly bytes: Uint8Array } | null;
}

/** events.json.
 *  @interface */
export type TakeEvents = Readonly<z.infer<typeof eventsSchema>>;
export type TakeEvent = TakeEvents["events"][number];

/** What a search found, and in which take. */
export interface TakeSearch {
  readonly events: TakeEvents;
  readonly take: {
    readonly name: string;
    readonly rows: number;
    readonly columns: number;
    readonly bitDepth: number;
    /** Numbers of the first and the last frame looked at. */
    readonly firstFrame: number;
    readonly lastFrame: number;
    /** null: not declared */
    readonly frameStep: number | null;
    /** null: not known */
    readonly rateHz: number | null;
  };
  /** How much the picture differs from that of the frame read before, in the unit of `strength`, in order of frame. */
  readonly activity: readonly { readonly frame: number; readonly strength: number }[];
}

/** Which frames are copied out of a take. */
export interface CopyOptions {
  /** Numbers of the first and the last frame of an event. */
  readonly firstFrame: number;
  readonly lastFrame: number;
  /** Frames on either side. Default: as many as the event has, but 50 to 500. */
  readonly marginFrames?: number;
  /** How the take is opened, and what else is known of it, for the take.json of the copy. Default: what take.json says. */
  readonly options?: MeasureOptions;
}

/** What was copied. */
export interface CopiedFrames {
  readonly frames: number;
  readonly firstFrame: number;
  readonly lastFrame: number;
}
/** plan.json: the recording mode chosen for a take.
 *  @interface */
export type PlanFile = Readonly<z.infer<typeof planSchema>>;

/** scale.json: metres in a picture, as `calibrateStills` finds them.
 *  @interface */
export type ScaleFile = Readonly<z.infer<typeof scaleFileSchema>>;

type AnyResult = Readonly<z.infer<typeof resultSchema>>;

/** result.json of a take that gave a speed.
 *  @interface */
export type MeasuredResult = Extract<AnyResult, { status: "measured" }>;

/** result.json of a take whose front crossed within too few frames to be followed: the speed is known from below.
 *  @interface */
export type BoundedResult = Extract<AnyResult, { status: "bounded" }>;

/** result.json of a take in which no front was found.
 *  @interface */
export type NotFoundResult = Extract<AnyResult, { status: "not-found" }>;

/** result.json. */
export type TakeResult = MeasuredResult | BoundedResult | NotFoundResult;

export interface TakeWarning {
  readonly code: string;
  readonly message: string;
}

/** An open sequence of frames, as the frame loader gives it; any object with these members will do. */
export interface TakeFrames extends FrameSource {
  readonly name: string;
  readonly warnings?: readonly TakeWarning[];
  /** The warnings that concern the frames with index start <= index < end. Default: all of `warnings`. */
  warningsWithin?(range: { start: number; end: number }): readonly TakeWarning[];
  /** Rejects where the file was written to since it was opened. Default: it is not looked at. */
  checkUnchanged?(): Promise<void>;
  /** Frames of a range as files. Default: none can be kept. */
  stills?(range: {
    start: number;
    end: number;
  }): AsyncIterable<{ readonly name: string; readonly bytes: Uint8Array }>;
}

/** One row of track.csv: the front in one frame. */
export interface TrackRow {
  readonly frame: number;
  /** Time of the frame, counted in frames, where it is not its number: extra copies were stored before it. */
  readonly timeFrames?: number;
  /** Time counted in frames divided by the rate, s. */
  readonly timeSeconds: number;
  readonly positionPixels: number;
  readonly positionMetres: number;
  readonly standardUncertaintyPixels: number;
  readonly residualPixels: number;
  readonly used: boolean;
}

/** One row of tips.csv: the tip of a crack in one frame. */
export interface TipRow {
  /** Number of the crack, from 1, as in the branches of the result. */
  readonly branch: number;
  readonly frame: number;
  /** Time counted in frames divided by the rate, s. */
  readonly timeSeconds: number;
  /** In the picture, px. */
  readonly x: number;
  readonly y: number;
  /** Along the course of the crack, from where it started. */
  readonly lengthPixels: number;
  readonly lengthMetres: number;
  readonly standardUncertaintyPixels: number;
  readonly residualPixels: number;
  readonly used: boolean;
}

/** The straight line through the used positions. */
export interface TrackLine {
  /** px, at frame number 0 */
  readonly interceptPixels: number;
  /** px a frame, signed along the path */
  readonly slopePixelsPerFrame: number;
}

/** Cracks in the picture. */
export interface CrackPicture {
  /** Course of every crack, px, 1 px apart, in the direction in which it ran; numbered as in the branches of the result. */
  readonly courses: readonly (readonly (readonly [x: number, y: number])[])[];
  /** Mean brightness of the last frames, row-major, shape [rows, columns]. */
  readonly data: Float64Array;
  readonly shape: readonly [rows: number, columns: number];
}

/** When the front arrived at the places of the picture. */
export interface ArrivalPicture {
  readonly map: ArrivalMap;
  readonly rateHz: number;
  /** null where the picture has no one scale: with a plane map or a lens. */
  readonly metresPerPixel: number | null;
  /** px, of a circular front; null where it is none. */
  readonly origin: readonly [x: number, y: number] | null;
  /** Brightness of a frame, row-major, shape [rows, columns]. */
  readonly still: {
    readonly frame: number;
    readonly data: Float64Array;
    readonly shape: readonly [rows: number, columns: number];
  };
}

/** What an arrival map says of every cell: row-major arrays of that shape, NaN where nothing is said. */
export interface MapQuantities {
  readonly shape: readonly [rows: number, columns: number];
  /** Since frame 0, s. */
  readonly arrivalSeconds: Float64Array;
  /** Standard, s. */
  readonly arrivalUncertaintySeconds: Float64Array;
  /** m/s; null where the picture has no one scale. */
  readonly speed: Float64Array | null;
  /** Standard, m/s: of rate and scale nothing is in it; null where there is no speed. */
  readonly speedUncertainty: Float64Array | null;
  /** From x towards y (down), degrees, -180 to 180; null where the picture has no one scale. */
  readonly directionDegrees: Float64Array | null;
}

/** A whole frame that shows the event. */
export interface EventPicture {
  readonly moment: "before" | "middle" | "after";
  readonly frame: number;
  /** Brightness, row-major, shape [rows, columns]. */
  readonly data: Float64Array;
  readonly shape: readonly [rows: number, columns: number];
}

export interface Measurement {
  readonly result: TakeResult;
  /** Empty unless the result is measured. */
  readonly track: readonly TrackRow[];
  /** null where no cracks were followed along their own courses. */
  readonly cracks: CrackPicture | null;
  /** Of their tips; empty where there are none. */
  readonly tips: readonly TipRow[];
  /** null where the front was not followed by its arrival map, and none was asked for. */
  readonly arrival: ArrivalPicture | null;
  /** null unless the result is measured. With a plane map its pixels are those of the mean scale, and positions go into it as
   *  metres / metresPerPixel. */
  readonly line: TrackLine | null;
  /** Of a model that is no straight line: its course as seen square on, px of the mean scale; otherwise null. */
  readonly course: readonly { readonly frame: number; readonly positionPixels: number }[] | null;
  /** With a plane map, or of such a model: what was fitted as it is seen in the picture; otherwise null. */
  readonly lineInPicture: readonly { readonly frame: number; readonly positionPixels: number }[] | null;
  /** Without a frame where nothing was found to measure. */
  readonly streak: Streak;
  /** Where in a long take the frames were found; null: all that were asked for were used. */
  readonly search: TakeSearch | null;
  /** The frames of `result.event`; empty where they were not asked for. */
  readonly eventPictures: readonly EventPicture[];
}

/** A frame of an event, and what its result knows of the front in it. */
export interface CourseFrame {
  readonly number: number;
  readonly fronts: readonly CourseFront[];
  /** Since the first frame in which the front was read, s; less than 0 before it; null where it is not told. */
  readonly elapsedSeconds: number | null;
  /** Run since that frame, m; null where the front is not placed, and where no one front was measured. */
  readonly distanceMetres: number | null;
}

export interface CourseFront {
  readonly place: FrontPlace;
  /** The reading of this frame was rejected: the front stands where the fit has it. */
  readonly isFitted: boolean;
}

export interface MeasureContext {
  /** Whether the whole pictures of the frames in `result.event` are read, to be shown. Default: false. */
  readonly eventPictures?: boolean;
  /** Stops the work; the promise is then rejected with `signal.reason`. */
  readonly signal?: AbortSignal;
  /** Called at most ten times a second. */
  readonly onProgress?: (progress: Progress) => void;
}

/** Pictures of a result by the names under which they lie beside its result.json. */
export interface ReportPictures {
  readonly "frame-before.png"?: Uint8Array;
  readonly "frame-middle.png"?: Uint8Array;
  readonly "frame-after.png"?: Uint8Array;
  /** As `drawStreakSamples` gives it. */
  readonly "streak-samples.png"?: Uint8Array;
  /** Where in a long take the event was found. */
  readonly "search.svg"?: string;
  readonly "cracks.png"?: Uint8Array;
  readonly "isochrones.png"?: Uint8Array;
  readonly "speed-map.png"?: Uint8Array;
  readonly "speed-rose.svg"?: string;
}

/** What goes into a page besides the result. */
export interface ReportInput {
  /** Default: none; the page says which are wanting. */
  readonly pictures?: ReportPictures;
  /** Names of the files beside the page that hold its figures: they are linked to. Default: none. */
  readonly files?: readonly string[];
  /** The speed against that of waves in what cracked and of sound in the air, in words. Default: not said. */
  readonly surroundings?: readonly string[];
}

import type { MeasureOptions, TakeResult } from "@frontpace/take";
import type { FilesWanted } from "./measure-to-files.js";

/** One take of a batch, as it goes to a worker. */
export interface TakeJob {
  /** The folder that was searched, and the take below it. */
  readonly folder: string;
  readonly name: string;
  /** Where its files go. */
  readonly out: string;
  readonly defaults: MeasureOptions;
  readonly wanted: FilesWanted;
}

/** A take of which there is a result, whichever. */
export interface MeasuredOutcome {
  readonly name: string;
  readonly result: SummarisedResult;
  readonly error: null;
  /** False where it had been measured from the same before. */
  readonly isNew: boolean;
  readonly shared: SharedSources;
  readonly footage: FootageSource;
}

export interface FailedOutcome {
  readonly name: string;
  readonly result: null;
  readonly error: TakeFailure;
  readonly isNew: true;
  readonly shared: null;
  readonly footage: null;
}

export type TakeOutcome = MeasuredOutcome | FailedOutcome;

/** What of a result a summary says: a batch keeps no more of each take. */
export interface SummarisedResult {
  readonly status: TakeResult["status"];
  readonly speed: TakeResult["speed"];
  readonly lowerBound: TakeResult["lowerBound"];
  readonly notFound: TakeResult["notFound"];
  readonly measurand: string | null;
  readonly framesHash: string;
  /** Numbers of those in which the front was seen; null where none was. */
  readonly frames: { readonly first: number; readonly last: number } | null;
  readonly warnings: TakeResult["warnings"];
  /** The answer in words. */
  readonly text: string;
}

/** Where scale and rate of a take come from: what has the same text in two takes is one and the same. */
export interface SharedSources {
  readonly scale: string;
  readonly rate: string;
}

/** Where the frames of a take come from. */
export interface FootageSource {
  /** Path of the take itself, or of that which its frames were copied out of, with links resolved. */
  readonly origin: string;
  readonly isCopy: boolean;
}

export interface TakeFailure {
  readonly code: string;
  readonly message: string;
}

/** What a worker says while it works. */
export interface TakeProgress {
  readonly stage: string;
  readonly done: number;
  readonly total: number;
}

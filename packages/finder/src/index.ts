export { findEvents } from "./find-events.js";
export type {
  EventSource,
  FindOptions,
  FindProgress,
  FindResult,
  FoundEvent,
  FrameRegion,
  FrameSamples,
  Point,
  WeakestSeen,
} from "./types.js";

export { findEvents } from "./find-events.js";
export type {
  Certainty,
  EventSource,
  FindOptions,
  FindProgress,
  FindResult,
  FoundEvent,
  FrameRegion,
  FrameSamples,
  LightChange,
  Point,
  WeakestSeen,
} from "./types.js";

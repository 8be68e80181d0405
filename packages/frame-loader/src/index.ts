export { type ClipPictures, encodeClip } from "./encode-clip.js";
export { FrameLoadError, type FrameLoadErrorCode, type FrameLoadErrorDetails } from "./frame-load-error.js";
export { type FolderListing, listFolder } from "./list-folder.js";
export { type OpenFramesOptions, openFrames } from "./open-frames.js";
export { parseRawLayout, type RawLayout } from "./raw-frames.js";
export { unreadableFrame } from "./read-header.js";
export { readStill, type Still } from "./read-still.js";
export type { Transfer } from "./transfer.js";
export type {
  Frame,
  FrameRange,
  FrameSequence,
  FrameWarning,
  NumberedFrame,
  OpeningProgress,
  ReadOptions,
  Region,
  StillFile,
} from "./types.js";

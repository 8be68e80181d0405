import { expect, it } from "vitest";
import * as frameLoader from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(frameLoader).sort()).toEqual([
    "FrameLoadError",
    "checkRegular",
    "encodeClip",
    "listFolder",
    "openFrames",
    "parseRawLayout",
    "readStill",
    "unreadableFrame",
  ]);
});

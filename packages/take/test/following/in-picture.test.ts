import type { TrackOutcome } from "@frontpace/tracker";
import { describe, expect, it } from "vitest";
import { inPicture } from "../../src/following/in-picture.js";

describe("inPicture", () => {
  it("does not say of samples read between pixels that they are alike, and keeps all else that is said", () => {
    const warnings = ["saturated", "samples-correlated", "front-leaves"].map((code) => ({
      code,
      message: "",
    }));
    const ray = [
      [1, 2],
      [30, 2],
    ] as const;
    const refused = { status: "not-found", reason: "no-change", message: "", streak: {}, warnings };
    const { warnings: said, streak } = inPicture(refused as unknown as TrackOutcome, ray);
    expect(said.map(({ code }) => code)).toEqual(["saturated", "front-leaves"]);
    expect(streak.path).toBe(ray);
  });
});

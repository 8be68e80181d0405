import type { FrontShape } from "@frontpace/arrival";
import type { TrackOutcome } from "@frontpace/tracker";
import { describe, expect, it } from "vitest";
import { withoutShape } from "../../src/following/without-shape.js";

const shaped = (shape: FrontShape["shape"]) =>
  ({ shape, reason: "the arrivals stand apart" }) as unknown as FrontShape;
const notFound = (reason: string) =>
  ({ status: "not-found", reason, message: "the change is wide.", warnings: [] }) as unknown as TrackOutcome;

describe("withoutShape", () => {
  it.each(["no-edge", "not-resolved"])("says of %s first that the front has no one shape", (reason) => {
    const outcome = withoutShape(notFound(reason), shaped("none"));
    expect(outcome).toMatchObject({ status: "not-found", reason });
    expect((outcome as { message: string }).message).toMatch(
      /neither straight nor round .*the arrivals stand apart.*--path.*the change is wide/,
    );
  });

  it.each([
    ["no-edge", shaped("circle")],
    ["no-edge", null],
    ["no-change", shaped("none")],
  ])("leaves %s as it is where there is a shape, no map, or another reason", (reason, shape) => {
    const outcome = notFound(reason);
    expect(withoutShape(outcome, shape)).toBe(outcome);
  });
});

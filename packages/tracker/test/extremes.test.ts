import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { render, sourceOf } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

const frontAt = (time: number) => 10 + 2.1 * time;

describe("extreme input", () => {
  it.each([0, 7])("pictures of nothing but %i are no change", async (value) => {
    const source = sourceOf({ numbers: frames(20), rows: 8, columns: 40 }, () => value);
    for (const options of [
      {},
      {
        path: [
          [0, 4],
          [39, 4],
        ] as const,
      },
    ])
      expect(await trackFront(source, options)).toMatchObject({ status: "not-found", reason: "no-change" });
  });

  it("three frames of five by five pixels give an answer and no number", async () => {
    const source = render({ numbers: frames(3), rows: 5, columns: 5, frontAt: (t) => 1 + 1.2 * t, noise: 2 });
    expect((await trackFront(source)).status).toBe("not-found");
    expect(
      (
        await trackFront(source, {
          path: [
            [0, 2],
            [4, 2],
          ],
        })
      ).status,
    ).toBe("not-found");
  });

  it("a picture of one row or of one column is measured, without a tilt", async () => {
    const row = await track(render({ numbers: frames(40), rows: 1, columns: 110, frontAt, noise: 2 }));
    const column = await track(
      render({ numbers: frames(40), rows: 110, columns: 1, heading: [0, 1], frontAt, noise: 2 }),
    );
    for (const found of [row, column]) {
      expectCovered(found, 2.1);
      expect(found.tilt).toBeNull();
    }
  });

  it.each([1e-12, 1e30])("samples of floating point times %f give the same speed", async (factor) => {
    const source = render({
      numbers: frames(40),
      rows: 6,
      columns: 110,
      frontAt,
      before: 100 * factor,
      step: 80 * factor,
    });
    expectRelative((await track(source)).line.slopePixelsPerFrame, 2.1, 1e-4);
  });

  it("the event is found in 49 of 10,000 frames", async () => {
    const found = await track(
      render({
        numbers: frames(10_000),
        rows: 2,
        columns: 100,
        frontAt: (time) => 10 + 2.1 * (time - 5000),
        noise: 2,
        bitDepth: 8,
      }),
    );
    expectCovered(found, 2.1);
    expect(found.firstFrame).toBeGreaterThan(4990);
    expect(found.lastFrame).toBeLessThan(5050);
  });
});

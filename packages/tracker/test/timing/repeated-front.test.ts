import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { repeatedFront } from "../../src/timing/repeated-front.js";
import { render } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const POSITIONS = 120;

/** A clip whose frame k shows the front as at `sourceOf(k)`, with noise of its own, as a compression leaves it. */
function clip(count: number, speed: number, sourceOf: (frame: number) => number) {
  const normal = seededNormal(8);
  const data = Float64Array.from({ length: count * POSITIONS }, (_, at) => {
    const time = sourceOf(Math.floor(at / POSITIONS));
    return 80 + 60 * edge(speed * (time - 6) - (at % POSITIONS)) + 0.4 * normal();
  });
  return { data, shape: [count, POSITIONS] as const, storedNumbers: frames(count) };
}

describe("frames that are repeated with noise of their own", () => {
  it.each([
    [3, 4, 60],
    [4, 5, 60],
    [1, 2, 100],
    [2, 5, 120],
  ])("are told by the front that stands in them: %i frames made into %i", (source, every, count) => {
    const pattern = repeatedFront(clip(count, 3.1, (k) => Math.floor((k * source) / every)));
    expect(pattern).toEqual({ copies: every - source, every });
  });

  it("are none where the front runs in every frame, sharp or slow, and where single ones stand twice", () => {
    for (const speed of [0.5, 1, 2.3, 7]) expect(repeatedFront(clip(90, speed, (k) => k))).toBeNull();
    const twice = [14, 21, 31, 36];
    expect(repeatedFront(clip(60, 3.1, (k) => k - twice.filter((at) => at <= k).length))).toBeNull();
  });

  it("are none where a front runs in every frame through stripes of glaze, and is seen in every second stripe only", () => {
    const normal = seededNormal(9);
    const [count, positions, speed, pitch] = [40, 250, 7.8, 39];
    const data = Float64Array.from({ length: count * positions }, (_, at) => {
      const place = at % positions;
      const step = place % pitch < pitch / 2 ? 60 : 0;
      return 80 + step * edge((speed * (Math.floor(at / positions) - 4) + 2 - place) / 1.5) + 0.4 * normal();
    });
    const striped = { data, shape: [count, positions] as const, storedNumbers: frames(count) };
    expect(repeatedFront(striped)).toBeNull();

    const acrossItsWay = Float64Array.from({ length: count * 48 }, (_, at) => {
      const row = data.subarray(Math.floor(at / 48) * positions, (Math.floor(at / 48) + 1) * positions);
      return row.reduce((sum, value) => sum + value, 0) / positions + 0.1 * normal();
    });
    expect(repeatedFront({ ...striped, data: acrossItsWay, shape: [count, 48] })).toBeNull();
  });

  it("leave a take without a speed: the front in one of four frames is that of the frame before", async () => {
    const source = render({
      numbers: frames(40),
      rows: 8,
      columns: POSITIONS,
      frontAt: (time) => 4.2 * Math.floor((3 * time) / 4) - 3,
      noise: 2,
    });
    const outcome = await trackFront(source);
    expect(outcome).toMatchObject({ reason: "interpolated-export" });
    expect(outcome).toHaveProperty("message", expect.stringMatching(/one of every 4 frames is a copy/));
  });
});

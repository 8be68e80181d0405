import { describe, expect, it } from "vitest";
import { render } from "./support/render.js";
import { expectRelative, frames, track, worstMiss } from "./support/track.js";

const BLURS = [0.5, 0.7, 1, 2, 4];

describe("an error-function edge without noise, averaged over square pixels", () => {
  it.each(BLURS)(
    "is located within 0.002 px at 20 sub-pixel phases, blur %f px, one whole pixel a frame",
    async (blurPixels) => {
      for (let phase = 0; phase < 20; phase++) {
        const frontAt = (time: number) => 12 + phase / 20 + time;
        const source = render({ numbers: frames(24), rows: 2, columns: 60, frontAt, blurPixels });
        const found = await track(source);
        expect(worstMiss(found, frontAt), `phase ${phase / 20}`).toBeLessThan(0.002);
      }
    },
  );

  it.each(BLURS.flatMap((blur) => [0.95, 1.05, 2.35].map((speed) => [blur, speed])))(
    "is located within 0.002 px where the phase changes from frame to frame, blur %f px, %f px a frame",
    async (blurPixels, speed) => {
      const frontAt = (time: number) => 10.13 + speed * time;
      const found = await track(render({ numbers: frames(30), rows: 4, columns: 100, frontAt, blurPixels }));
      expect(found.positions.length).toBeGreaterThanOrEqual(20);
      expect(worstMiss(found, frontAt)).toBeLessThan(0.002);
      expectRelative(found.line.slopePixelsPerFrame, speed, 1e-4);
    },
  );
});

const SPEEDS = [0.1, 0.3, 1, 3, 10, 30, 100];

it.each(SPEEDS.flatMap((speed) => [0.01, 1].map((exposure) => [speed, exposure])))(
  "%f px a frame come out within 1e-4 without noise, light collected over %f of the interval",
  async (speed, exposureFraction) => {
    const slow = speed < 1;
    const numbers = frames(slow ? 60 : speed < 30 ? 24 : 14);
    const frontAt = (time: number) => (slow ? 20.13 : -2.37 * speed) + speed * time;
    const columns = Math.max(48, (speed < 30 ? 18 : 9) * speed);
    const source = render({ numbers, rows: 3, columns, frontAt, blurPixels: 1.2, exposureFraction });
    for (const options of [{}, { exposureFraction }]) {
      const { line } = await track(source, options);
      expectRelative(line.slopePixelsPerFrame, speed, 1e-4);
    }
  },
);

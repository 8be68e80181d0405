import { modesOfHeight, planModes, playbackSeconds, readModes } from "@frontpace/planner";
import { describe, expect, it } from "vitest";

const relative = (a: number, b: number) => Math.abs(a / b - 1);
const at = (rateHz: number, speed: number, lengthMetres: number, more = {}) =>
  planModes(readModes(`columns,rows,max_rate,min_exposure\n1280,96,${rateHz},1e-7`), {
    speedMetresPerSecond: { low: speed, high: speed },
    lengthMetres,
    ...more,
  }).modes[0];

// Figures of the trade.
describe("common practice, no source", () => {
  const sensor = readModes(
    "columns,rows,max_rate\n1280,800,76000\n1280,640,94500\n640,800,76000\n640,640,94500",
  );

  it("a sensor that runs 800 rows at just over 76,000 frames/s runs 720 rows at about 82,000: inverse proportion holds within 5 %", () => {
    expect(relative((76_000 * 800) / 720, 82_000)).toBeLessThan(0.05);
    for (const { rateHz } of modesOfHeight(sensor, 720)) expect(relative(rateHz, 82_000)).toBeLessThan(0.05);
  });

  it("and the width does not enter", () => {
    const [wide, narrow] = modesOfHeight(sensor, 720);
    expect([wide.columns, narrow.columns]).toEqual([1280, 640]);
    expect(wide.rateHz).toBe(narrow.rateHz);
    const request = { speedMetresPerSecond: { low: 1500, high: 1500 }, lengthMetres: 0.3 };
    expect(planModes(sensor, request).widthCostsRate).toBe(false);
  });

  it("at 500,000 frames/s half the interval is 1 µs of exposure, and exposures go on down to some 100 ns", () => {
    expect(relative(at(500e3, 1500, 0.3, { exposureFraction: 0.5 }).exposureSeconds, 1e-6)).toBeLessThan(
      1e-12,
    );
    expect(at(500e3, 1500, 0.3, { exposureSeconds: 1e-7 }).meets).toBe(true);
    expect(at(500e3, 1500, 0.3, { exposureSeconds: 0.9e-7 }).meets).toBe(false);
  });

  it("at 800,000 frames/s a front that is in the picture for 145 frames takes 181 µs, of about 4 million recorded", () => {
    const recorded = 3.94e6;
    const planned = at(800e3, 1500, 1500 * 181.25e-6, { memorySeconds: recorded / 800e3, playbackHz: 25 });
    expect(Math.abs(planned.framesAcross - 145)).toBeLessThan(1e-6);
    expect(Math.round(planned.eventSeconds * 1e6)).toBe(181);
    expect(relative(planned.eventShare!, 145 / recorded)).toBeLessThan(1e-6);
    expect(planned.recordFrames).toBe(recorded);
  });

  it("about 3.94 million frames last some 2,630 minutes at 25 frames/s", () => {
    expect(relative(playbackSeconds(3.94e6, 25) / 60, 2630)).toBeLessThan(0.002);
  });

  it("at 1,000 frames/s a crack across a pane is in one or two frames, which bounds its speed and does not measure it", () => {
    const pane = at(1000, 1500, 2);
    expect(pane.framesAcross).toBeGreaterThan(1);
    expect(pane.framesAcross).toBeLessThan(2);
    expect(pane.meets).toBe(false);
    expect(pane.reasons[0]).toContain("fewer than 3 bound its speed and do not measure it");
    expect(pane.predictedRelativeUncertainty).toBeNull();
  });
});

import type { ReportedSummary } from "../src/index.js";

const take = { lowerBound: null, notFound: null, error: null, warnings: [], sameEventAs: null } as const;
const speed = (value: number) => ({
  value,
  expandedUncertainty: 9,
  coverageFactor: 1.96,
  complete: true,
  missing: [],
});

/** An invented day: three tiles of one firing, one of which stands apart, a spark that was too fast and a take that is damaged. */
export const summary: ReportedSummary = {
  program: { name: "frontpace", version: "0.1.0" },
  counts: { takes: 5, measured: 3, bounded: 1, notFound: 0, failed: 1 },
  takes: [
    {
      ...take,
      take: "cut",
      status: "failed",
      speed: null,
      error: { message: "tile_0005.png is damaged: export it again" },
    },
    { ...take, take: "firing/tile-1", status: "measured", speed: speed(1500) },
    {
      ...take,
      take: "firing/tile-2",
      status: "measured",
      speed: speed(1700),
      warnings: [{ code: "front-leaves", message: "the front leaves the path in frame 31" }],
    },
    { ...take, take: "firing/tile-3", status: "measured", speed: speed(1504) },
    {
      ...take,
      take: "spark",
      status: "bounded",
      speed: null,
      lowerBound: { value: 912.4, complete: false, missing: ["rate"] },
      warnings: [{ code: "reading-only", message: "the rate came without an uncertainty" }],
    },
  ],
  repeats: [
    {
      folder: "firing",
      measurand: "mid-level of the change",
      takes: ["firing/tile-1", "firing/tile-2", "firing/tile-3"],
      mean: { ...speed(1568), expandedUncertainty: 284, coverageFactor: 4.3 },
      ownUncertainties: [2, 2, 2],
      withinTakeStandardDeviation: 2,
      betweenTakeStandardDeviation: 114,
      intermediatePrecision: 114,
      shared: [{ source: "scale", standardUncertainty: 7.8 }],
      chance: 0,
      disagreeing: ["firing/tile-2"],
    },
  ],
};

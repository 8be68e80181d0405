import { describe, expect, it } from "vitest";
import { drawSpeedRose } from "../src/index.js";
import { roseSectors } from "../src/maps/rose-sectors.js";

/** Invented cells that all run one way, but for a few. */
function cellsTowards(degrees: number, { odd = 0 } = {}) {
  const count = 2000;
  // Spread evenly by up to two degrees and a tenth of the speed.
  const spread = Float64Array.from({ length: count }, (_, k) => ((k * 0.618) % 1) - 0.5);
  return {
    speed: spread.map((s) => 1500 * (1 + 0.1 * s)),
    direction: spread.map((s, k) => (k < odd ? degrees + 90 : degrees + 4 * s)),
  };
}

describe("roseSectors", () => {
  it.each([0, 30, 37.5, -172.4, 179.9])(
    "a straight front at %d degrees has one petal, at its angle",
    (angle) => {
      const { speed, direction } = cellsTowards(angle);
      const { sectors } = roseSectors(speed, direction);
      expect(sectors).toHaveLength(1);
      const apart = ((sectors[0].angleDegrees - angle + 540) % 360) - 180;
      expect(Math.abs(apart)).toBeLessThan(0.05);
      // Uniform from 1425 to 1575: quartiles at 1462.5 and 1537.5.
      expect(Math.abs(sectors[0].medianSpeed - 1500)).toBeLessThan(1);
      expect(Math.abs(sectors[0].quartiles[0] - 1462.5)).toBeLessThan(1);
      expect(Math.abs(sectors[0].quartiles[1] - 1537.5)).toBeLessThan(1);
    },
  );

  it("a circle whose speed is greater across than along has a petal for every sector, with its own speed", () => {
    const direction = Float64Array.from({ length: 3600 }, (_, k) => k / 10 - 180);
    const speed = direction.map((d) => 1000 + 200 * Math.sin((d * Math.PI) / 180) ** 2);
    const { sectors, widthDegrees } = roseSectors(speed, direction);
    expect(sectors).toHaveLength(360 / widthDegrees);
    // The median of a sector of 15 degrees differs from the value in its middle by a few m/s.
    for (const { angleDegrees, medianSpeed } of sectors)
      expect(Math.abs(medianSpeed - 1000 - 200 * Math.sin((angleDegrees * Math.PI) / 180) ** 2)).toBeLessThan(
        8,
      );
  });

  it("leaves out sectors of a few odd cells, and counts them", () => {
    const { speed, direction } = cellsTowards(30, { odd: 12 });
    const { sectors, leftOut, cells } = roseSectors(speed, direction);
    expect([sectors.length, leftOut, cells]).toEqual([1, 12, 2000]);
  });

  it("does not count cells of which nothing is said", () => {
    const { speed, direction } = cellsTowards(30);
    speed.fill(Number.NaN, 0, 1500);
    expect(roseSectors(speed, direction).cells).toBe(500);
    expect(() => roseSectors(speed, direction.subarray(1))).toThrow(
      new RangeError("direction must hold as many values as speed, 2000, got 1999"),
    );
  });
});

describe("drawSpeedRose", () => {
  const petals = (svg: string) => [
    ...svg.matchAll(/class="petal"><path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)A/g),
  ];

  it("points a petal where the front ran in the picture: 90 degrees is down", () => {
    const [[, x0, y0, x1, y1]] = petals(drawSpeedRose({ ...cellsTowards(90), title: "Invented" }));
    expect(Number(y1)).toBeGreaterThan(Number(y0) + 50);
    // Half of a sector beside the middle.
    const angle = (Math.atan2(Number(y1) - Number(y0), Number(x1) - Number(x0)) * 180) / Math.PI;
    expect(Math.abs(angle - 82.5)).toBeLessThan(0.1);
  });

  it("says the convention, the sectors and the spread", () => {
    const svg = drawSpeedRose({ ...cellsTowards(30), title: "Invented" });
    expect(petals(svg)).toHaveLength(1);
    for (const text of [
      "0° right",
      "90° down the picture",
      "sectors of 15°",
      "half of the speeds lie within",
      "1500 m/s at 30°",
    ])
      expect(svg).toContain(text);
  });

  it("says it where nothing can be said", () => {
    const speed = new Float64Array(5).fill(Number.NaN);
    const svg = drawSpeedRose({ speed, direction: speed, title: "Invented" });
    expect(petals(svg)).toHaveLength(0);
    expect(svg).toContain("nowhere can anything be said of speed and direction");
    // A key of what is not there.
    for (const text of ["median speed where", "half of the speeds"]) expect(svg).not.toContain(text);
  });
});

import { describe, expect, it } from "vitest";
import { circularFront, frontShape, localMotion, straightFront } from "../src/index.js";
import { liesElsewhere } from "../src/lies-elsewhere.js";
import { madeMap } from "./support/made-map.js";
import { normalFrom } from "./support/render.js";

const size = [60, 80] as const;
const ramp = (degrees: number, speed: number) => {
  const [nx, ny] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return (x: number, y: number) => 20 + (nx * x + ny * y) / speed;
};
const rings = (cx: number, cy: number, speed: number) => (x: number, y: number) =>
  20 + Math.hypot(x - cx, y - cy) / speed;
const relative = (value: number, truth: number) => Math.abs(value / truth - 1);

describe("straightFront", () => {
  it.each([0, 30, 135, -100])("gives speed and angle of an exact ramp at %i degrees", (degrees) => {
    const front = straightFront(madeMap(size, ramp(degrees, 1.7)))!;
    expect(relative(front.speedPixelsPerFrame.value, 1.7)).toBeLessThan(1e-10);
    expect(Math.abs(front.angleDegrees.value - degrees)).toBeLessThan(1e-8);
  });

  it("is not moved by a third of the cells being anything", () => {
    const wild = normalFrom(3);
    const truth = ramp(30, 1.7);
    const front = straightFront(
      madeMap(size, (x, y) => (Math.floor(7 * x + 3 * y) % 3 === 0 ? 40 + 30 * wild() : truth(x, y)), {
        noise: 0.1,
      }),
    )!;
    expect(relative(front.speedPixelsPerFrame.value, 1.7)).toBeLessThan(1e-3);
  });

  it("counts the angle from x towards y, so that a mirror flips its sign", () => {
    const map = madeMap(size, (x, y) => ramp(30, 2)(x, size[0] - 1 - y));
    expect(Math.abs(straightFront(map)!.angleDegrees.value + 30)).toBeLessThan(1e-8);
  });

  it("holds the true speed and angle in 95 % intervals under independent noise about as often as it says", () => {
    let speeds = 0;
    let angles = 0;
    const maps = 120;
    for (let seed = 1; seed <= maps; seed++) {
      const front = straightFront(madeMap([36, 48], ramp(25, 1.5), { noise: 0.2, seed }))!;
      const { speedPixelsPerFrame: speed, angleDegrees: angle } = front;
      if (Math.abs(speed.value - 1.5) <= speed.expandedUncertainty) speeds++;
      if (Math.abs(angle.value - 25) <= angle.expandedUncertainty) angles++;
    }
    // Three standard deviations of the binomial distribution below 95 %: 114 - 3 * 2.4.
    expect(speeds).toBeGreaterThanOrEqual(106);
    expect(angles).toBeGreaterThanOrEqual(106);
  });
});

describe("circularFront", () => {
  it.each([
    [30.25, 17.5],
    [-60, 100],
    [200, 30],
  ])("gives origin and speed of an exact circle about %d, %d", (cx, cy) => {
    const front = circularFront(madeMap(size, rings(cx, cy, 2.3)))!;
    expect(relative(front.speedPixelsPerFrame.value, 2.3)).toBeLessThan(1e-7);
    expect(Math.hypot(front.origin[0] - cx, front.origin[1] - cy)).toBeLessThan(1e-4);
    expect(Math.abs(front.startTime.value - 20)).toBeLessThan(1e-4);
  });

  it("keeps a given origin, and has a negative speed where the circle closes", () => {
    const front = circularFront(
      madeMap(size, (x, y) => 90 - Math.hypot(x - 30, y - 17) / 2),
      { origin: [30, 17] },
    )!;
    expect(front.origin).toEqual([30, 17]);
    expect(front.originUncertainty).toBeNull();
    expect(relative(front.speedPixelsPerFrame.value, -2)).toBeLessThan(1e-7);
  });
});

describe("frontShape", () => {
  it.each([
    ["straight", ramp(30, 1.7)],
    ["straight", (x: number, y: number) => ramp(-70, 1)(x, y) + 0.004 * ramp(-70, 1)(x, y) ** 2],
    ["circle", rings(30, 17, 2)],
    ["circle", rings(-50, 100, 2)],
    ["circle", (x: number, y: number) => 20 + 0.02 * Math.hypot(x - 40, y - 30) ** 2.2],
    ["none", (x: number, y: number) => (x < 40 ? x / 1 : 40 + (x - 40) / 3) + 12 * Math.sin(y / 9)],
  ])("sees that it is %s", (shape, arrival) => {
    const found = frontShape(madeMap(size, arrival, { noise: 0.2 }));
    expect(found.shape).toBe(shape);
    expect(found.candidates.map(({ name }) => name)).toContain("free");
  });

  const across = (y: number) => y - 29.5;
  const aside = (x: number, y: number) => {
    const [c, s] = [Math.cos(0.6), Math.sin(0.6)];
    return [c * (x - 39.5) + s * (y - 29.5), c * (y - 29.5) - s * (x - 39.5)];
  };
  const wedge = (degrees: number) => Math.tan((degrees * Math.PI) / 180);
  it.each([
    ["a wedge of 10 degrees", (x: number, y: number) => x + wedge(10) * Math.abs(across(y))],
    ["a wedge of 20 degrees", (x: number, y: number) => x + wedge(20) * Math.abs(across(y))],
    ["a wedge of 30 degrees", (x: number, y: number) => x + wedge(30) * Math.abs(across(y))],
    ["a wedge of 45 degrees", (x: number, y: number) => x + wedge(45) * Math.abs(across(y))],
    ["a wedge that opens backwards", (x: number, y: number) => x - wedge(30) * Math.abs(across(y))],
    [
      "a wedge aside of its middle, at an angle",
      (x: number, y: number) => aside(x, y)[0] + wedge(30) * Math.abs(aside(x, y)[1] - 12),
    ],
    ["a wave", (x: number, y: number) => aside(x, y)[0] + 3 * Math.sin(aside(x, y)[1] / 10)],
    ["a bulge", (x: number, y: number) => x - 6 * Math.exp(-((across(y) / 12) ** 2))],
    ["a parabola", (x: number, y: number) => x + 20 * (across(y) / 30) ** 2],
    ["a square that grows", (x: number, y: number) => Math.max(...aside(x, y).map(Math.abs))],
  ])("sees that %s is neither straight nor a circle", (_, at) => {
    const { shape, reason } = frontShape(madeMap(size, (x, y) => 20 + at(x, y) / 1.5, { noise: 0.2 }));
    expect(shape, reason).toBe("none");
  });

  it.each([
    ["a wave of few periods", 0, (c: number) => 5 * Math.sin(c / 9 + 1)],
    ["a wave of a low height", 30, (c: number) => 2 * Math.sin(c / 10)],
    ["a wedge whose halves are not of one size", 20, (c: number) => (c < 0 ? -0.2 : 0.6) * c],
    [
      "a wedge far aside of the middle, which grows in proportion, too",
      0,
      (c: number) => 0.5 * Math.abs(c - 12),
    ],
    ["a parabola, which is a polynomial, too", 15, (c: number) => 0.012 * c * c],
    ["a bulge", -110, (c: number) => 8 * Math.exp(-(((c + 9) / 12) ** 2))],
  ])("tells in which direction %s moves as a whole, %i degrees, not that of the mean", (_, degrees, lag) => {
    const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    const arrival = (x: number, y: number) => {
      const [fromX, fromY] = [x - 39.5, y - 29.5];
      return 20 + (c * fromX + s * fromY + lag(c * fromY - s * fromX)) / 1.5;
    };
    const { shape, ownForm, reason } = frontShape(madeMap(size, arrival, { noise: 0.1 }));
    expect(shape, reason).toBe("none");
    expect(reason).toMatch(/^the front has a form of its own that moves as a whole: /);
    const { angleDegrees, speedPixelsPerFrame, lagPixels } = ownForm!.rigid!;
    expect(angleDegrees.standardUncertainty).toBeLessThan(0.1);
    expect(Math.abs(angleDegrees.value - degrees)).toBeLessThan(2.5 * angleDegrees.standardUncertainty);
    expect(Math.abs(speedPixelsPerFrame.value - 1.5)).toBeLessThan(
      2.5 * speedPixelsPerFrame.standardUncertainty,
    );
    for (const across of [-20, -5, 6, 18])
      expect(Math.abs(lagPixels(across) - lagPixels(0) - lag(across) + lag(0))).toBeLessThan(0.5);
  });

  it.each([
    ["two, the second a fifth faster", [1.5, 1.8]],
    ["two, the second half as fast again", [1.5, 2.25]],
    ["three, the middle one faster", [1.5, 1.9, 1.5]],
  ])("sees several fronts side by side, %s, and gives them no direction in common", (_, speeds) => {
    const speedAt = (y: number) => speeds[Math.min(speeds.length - 1, Math.floor((y * speeds.length) / 60))];
    const arrival = (x: number, y: number) => 5 + x / speedAt(y);
    const { shape, ownForm, reason } = frontShape(madeMap(size, arrival, { noise: 0.2 }));
    expect(shape, reason).toBe("none");
    expect(ownForm).toBeNull();
    expect(reason).toMatch(/^several fronts run side by side, each at a speed of its own: /);
  });

  it("takes what frays a straight front by chance for no form of its own", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const normal = normalFrom(seed);
      const waves = Array.from({ length: 24 }, () => [normal() / 4, normal() / 12, 3 * normal()]);
      // Waves of some 25 px along the front, which change within some 12 px of its run, 2 px root mean square.
      const frayed = (x: number, y: number) =>
        waves.reduce((sum, [ky, kx, phase]) => sum + Math.cos(kx * x + ky * y + phase), 0) *
        2 *
        Math.sqrt(2 / 24);
      const { shape, reason } = frontShape(
        madeMap(size, (x, y) => 20 + (x + frayed(x, y)) / 1.5, { noise: 0.2 }),
      );
      expect(shape, `seed ${seed}: ${reason}`).not.toBe("none");
    }
  });

  it.each([
    ["twice", (t: number) => (t < 0 ? t : t / 2)],
    ["three times", (t: number) => (t < 5 ? t : 5 + (t - 5) / 3)],
  ])("tells the direction of a straight front that becomes %s as fast on its way", (_, course) => {
    const [nx, ny] = [Math.cos((160 * Math.PI) / 180), Math.sin((160 * Math.PI) / 180)];
    const arrival = (x: number, y: number) => 40 + course((nx * (x - 40) + ny * (y - 30)) / 1.5);
    const { shape, straight } = frontShape(madeMap(size, arrival, { noise: 0.1 }));
    expect(shape).toBe("straight");
    const { value, standardUncertainty } = straight!.angleDegrees;
    // About an even speed it is known to 2 or 3 degrees only.
    expect(standardUncertainty).toBeLessThan(0.5);
    expect(Math.abs(value - 160)).toBeLessThan(2 * standardUncertainty);
  });

  it.each([0, 30, 90, 150])(
    "sees a long ellipse at %i degrees about an origin in the picture as round",
    (degrees) => {
      const [cos, sin] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
      const arrival = (x: number, y: number) => {
        const [along, across] = [(x - 46) * cos + (y - 32) * sin, (y - 32) * cos - (x - 46) * sin];
        return 20 + Math.hypot(along / Math.sqrt(1.8), across * Math.sqrt(1.8)) / 2;
      };
      const found = frontShape(madeMap(size, arrival, { noise: 0.1 }));
      expect(found.shape).toBe("circle");
      expect(found.axes?.differ).toBe(true);
      expect(relative(found.axes!.ratio.value, 1.8)).toBeLessThan(0.01);
    },
  );

  it("sees a circle that stays small in a large picture", () => {
    // 0.3 px a frame, as far as 24 px from its origin, in a picture of 160 by 120 px; of long windows the first and last times cannot be told.
    const arrival = (x: number, y: number) => {
      const radius = Math.hypot(x - 80, y - 60);
      return radius > 3 && radius < 24 ? 9 + radius / 0.3 : Number.NaN;
    };
    const map = madeMap([120, 160], arrival, { noise: 0.3 });
    const found = frontShape({ ...map, earliest: 28, latest: 61 });
    expect(found.shape).toBe("circle");
    const { origin, speedPixelsPerFrame } = found.circle!;
    expect(Math.hypot(origin[0] - 80, origin[1] - 60)).toBeLessThan(0.1);
    expect(relative(speedPixelsPerFrame.value, 0.3)).toBeLessThan(0.01);
  });

  it("sees no front where everything changes at once, in no order, or hardly anywhere", () => {
    expect(frontShape(madeMap(size, () => 30, { noise: 0.3 })).shape).toBe("no-front");
    const wild = normalFrom(9);
    expect(frontShape(madeMap(size, () => 30 + 15 * wild())).shape).toBe("no-front");
    expect(frontShape(madeMap(size, (x, y) => (x + y < 5 ? 10 + x : Number.NaN))).shape).toBe("no-front");
  });
});

describe("an origin that is given", () => {
  it("is held against the one that the arrivals have, about which the front still is a circle", () => {
    for (const origin of [
      [30, 17],
      [33, 19],
    ] as const) {
      const found = frontShape(madeMap(size, rings(30, 17, 2), { noise: 0.2 }), { origin });
      expect(found.shape, found.reason).toBe("circle");
      expect(found.circle!.origin).toEqual(origin);
      const { origin: at, originUncertainty } = found.circleFound!;
      for (const k of [0, 1])
        expect(Math.abs(at[k] - [30, 17][k])).toBeLessThan(4 * originUncertainty![k].standardUncertainty);
    }
    expect(frontShape(madeMap(size, rings(30, 17, 2), { noise: 0.2 })).circleFound).toBeNull();
  });

  it.each([
    ["surely", [32, 30], [0.1, 0.1], true],
    ["not told from it", [32, 30], [1, 1], false],
    ["no farther than whole pixels are rounded", [30.7, 30], [0.01, 0.01], false],
  ] as const)("lies elsewhere: %s", (_, found, uncertainty, elsewhere) => {
    expect(liesElsewhere([30, 30], found, uncertainty)).toBe(elsewhere);
  });

  it.each([
    ["of even speed, 12 px off", [42, 17], rings(30, 17, 2)],
    [
      "that slows, 4 px off",
      [34, 17],
      (x: number, y: number) => 20 + (Math.hypot(x - 30, y - 17) / 8) ** 1.7,
    ],
  ] as const)("is contradicted by a circle %s, which names its own", (_, origin, arrival) => {
    const found = frontShape(madeMap(size, arrival, { noise: 0.1 }), { origin });
    expect(found).toMatchObject({ shape: "none", originContradicted: true });
    expect(found.reason).toMatch(
      /^about the origin that was given, \d+.0, 17.0 px, the arrivals are no circle; about 30.0, 17.0 px they are/,
    );
    expect(Math.hypot(found.circleFound!.origin[0] - 30, found.circleFound!.origin[1] - 17)).toBeLessThan(
      0.2,
    );
  });

  it("is contradicted by a circle that slows about another, though about that it is one, too", () => {
    const slowing = madeMap(size, (x, y) => 20 + (Math.hypot(x - 30, y - 17) / 8) ** 1.7, { noise: 0.1 });
    const beside = frontShape(slowing, { origin: [30.9, 17] });
    expect(beside).toMatchObject({ shape: "circle", originContradicted: true });
    expect(Math.abs(beside.circleFound!.origin[0] - 30)).toBeLessThan(0.1);
    expect(frontShape(slowing, { origin: [30, 17] }).originContradicted).toBe(false);
  });
});

describe("localMotion", () => {
  it("gives speed and direction of an exact ramp at every inner cell", () => {
    const { speed, angle } = localMotion(madeMap(size, ramp(30, 1.7)));
    const at = 30 * size[1] + 40;
    expect(relative(speed[at], 1.7)).toBeLessThan(1e-9);
    expect(Math.abs(angle[at] - 30)).toBeLessThan(1e-7);
    expect(speed.filter((value) => !Number.isNaN(value)).length).toBeGreaterThan(0.8 * speed.length);
  });

  it("points away from the origin of a circle, at its speed", () => {
    const { speed, angle } = localMotion(madeMap(size, rings(-40, 30, 2)));
    const [x, y] = [50, 12];
    const at = y * size[1] + x;
    expect(relative(speed[at], 2)).toBeLessThan(2e-3);
    expect(Math.abs(angle[at] - (Math.atan2(y - 30, x + 40) * 180) / Math.PI)).toBeLessThan(0.1);
  });

  it("tells two half-planes of different speed apart, each within half a percent outside the square that a plane covers", () => {
    const map = madeMap(size, (x) => (x < 40 ? x / 1.5 : 40 / 1.5 + (x - 40) / 2.5), { noise: 0.05 });
    const { speed } = localMotion(map);
    const mean = (from: number, to: number) => {
      const values: number[] = [];
      for (let r = 5; r < 55; r++)
        for (let c = from; c <= to; c++) {
          const value = speed[r * size[1] + c];
          if (!Number.isNaN(value)) values.push(value);
        }
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    };
    expect(relative(mean(4, 36), 1.5)).toBeLessThan(5e-3);
    expect(relative(mean(43, 75), 2.5)).toBeLessThan(5e-3);
  });

  it("says nothing where there is no order", () => {
    const wild = normalFrom(4);
    const { speed } = localMotion(madeMap(size, () => 30 + 10 * wild()));
    expect(speed.filter((value) => !Number.isNaN(value)).length).toBeLessThan(0.01 * speed.length);
  });

  it("rejects a reach that is not a whole number", () => {
    expect(() => localMotion(madeMap(size, ramp(0, 1)), { reachCells: 0 })).toThrow("got 0");
  });
});

describe("the axes of a circle", () => {
  const size = [60, 80] as const;
  /** Speed 1.5 px a frame along the longer axis, which lies at 30°. */
  const oval = (ratio: number) => (x: number, y: number) => {
    const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    const [dx, dy] = [x - 42, y - 25];
    return 20 + Math.hypot(c * dx + s * dy, ratio * (c * dy - s * dx)) / 1.5;
  };

  it("are those of an ellipse in closed form, origin and direction with them", () => {
    const { shape, reason, axes } = frontShape(madeMap(size, oval(1.1), { noise: 1e-6 }));
    expect(shape, reason).toBe("circle");
    expect(axes!.differ).toBe(true);
    expect(Math.abs(axes!.ratio.value - 1.1)).toBeLessThan(1e-6);
    expect(Math.abs(axes!.angleDegrees - 30)).toBeLessThan(1e-4);
  });

  it("about a given origin are the same", () => {
    const { axes } = frontShape(madeMap(size, oval(1.2), { noise: 1e-6 }), { origin: [42, 25] });
    expect(Math.abs(axes!.ratio.value - 1.2)).toBeLessThan(1e-6);
  });

  it("differ by chance in few true circles, and of a ratio of 1.03 are told within their intervals", () => {
    const seeds = Array.from({ length: 20 }, (_, k) => k + 1);
    const of = (ratio: number) =>
      seeds.map((seed) => frontShape(madeMap(size, oval(ratio), { noise: 0.3, seed })).axes!);
    // Of 20 at 5 %, more than 4 happen in 3 of 1,000 trials.
    expect(of(1).filter(({ differ }) => differ).length).toBeLessThanOrEqual(4);
    const told = of(1.03);
    expect(told.every(({ differ }) => differ)).toBe(true);
    const held = told.filter(({ ratio }) => Math.abs(ratio.value - 1.03) < ratio.expandedUncertainty);
    // Of 20 at 95 %, fewer than 16 happen in 3 of 1,000 trials.
    expect(held.length).toBeGreaterThanOrEqual(16);
  }, 180_000);
});

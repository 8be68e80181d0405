import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import type { Change } from "../src/find-changes.js";
import { findLasting } from "../src/find-lasting.js";
import { splitRestless } from "../src/split-restless.js";

const COUNT = 460;

/** Samples of a few values with noise of one, each with its own course. */
function samples(courses: readonly ((sample: number) => number)[], seed = 1): Float64Array[] {
  const normal = seededNormal(seed);
  return Array.from({ length: COUNT }, (_, j) =>
    Float64Array.from(courses, (course) => course(j) + normal()),
  );
}

const noise = (values: number) => new Float64Array(values).fill(1);
const step = (at: number, height: number) => (j: number) => (j > at ? height : 0);
const pulses = (j: number) => (j % 60 < 12 ? 50 : 0);

describe("findLasting", () => {
  it("finds where a value goes over for good and between which levels, amid what passes", () => {
    const values = samples([(j) => step(231, 8)(j) + pulses(j), pulses, () => 0]);
    const found = findLasting(values, noise(3), [0, 1, 2]);
    expect(found).toHaveLength(1);
    expect(found[0].value).toBe(0);
    expect(Math.abs(found[0].before - 231)).toBeLessThanOrEqual(1);
    // Of 33 samples up to 12 are pulses: the median lies at a higher rank, within a noise level.
    expect(Math.abs(found[0].to - found[0].from - 8)).toBeLessThan(1);
  });

  it("tells what came, rested for long and went again from what is kept", () => {
    const rested = (j: number) => (j > 120 && j < 300 ? 20 : 0);
    const found = findLasting(samples([rested, step(231, 8)]), noise(2), [0, 1]);
    expect(found.map(({ isKept }) => isKept)).toEqual([false, true]);
  });

  it("looks only at the values it is asked for, and at none in a series shorter than two windows", () => {
    const values = samples([step(231, 8), step(100, 8)]);
    expect(findLasting(values, noise(2), [1]).map(({ value }) => value)).toEqual([1]);
    expect(findLasting(values.slice(200, 265), noise(2), [0])).toEqual([]);
  });

  it("takes noise for no change in any of 300 series", () => {
    const courses = Array.from({ length: 300 }, () => () => 0);
    expect(findLasting(samples(courses, 7), noise(300), courses.keys())).toEqual([]);
  });
});

describe("splitRestless", () => {
  const change = (value: number, before: number, after: number): Change => ({
    value,
    before,
    after,
    firstWithin: before + 1,
    lastWithin: after - 1,
    size: 20,
  });
  /** Two values that change for good in samples 200 and 203, and a third that is restless all the time. */
  const values = samples([step(200, 15), step(203, 15), pulses]);
  const restless = Array.from({ length: 13 }, (_, i) => change(2, 30 * i, 30 * i + 20));
  const lasting = [change(0, 198, 203), change(1, 201, 206)];

  it("tells what lasts from what moves all the time", () => {
    const { lasting: groups } = splitRestless([...restless, ...lasting], values, noise(3));
    expect(groups.map((group) => group.map(({ value, before }) => [value, before]))).toEqual([
      [
        [0, 200],
        [1, 203],
      ],
    ]);
  });

  it("parts what lasts where it lies much farther apart than usual", () => {
    const courses = [20, 21, 22, 23, 24, 25, 300, 301, 302].map((at) => step(at + 50, 15));
    const all = courses.map((_, value) => change(value, 10 * value, 10 * value + 30));
    const more = Array.from({ length: 9 }, (_, i) => change(9, 90 + 30 * i, 90 + 30 * i + 30));
    const { lasting: groups } = splitRestless([...all, ...more], samples([...courses, pulses]), noise(10));
    expect(groups.map((group) => group.map(({ value }) => value))).toEqual([
      [0, 1, 2, 3, 4, 5],
      [6, 7, 8],
    ]);
  });

  it("keeps what stands out, and not beside what lasts", () => {
    const passing = { ...change(1, 100, 104), size: 200 };
    const beside = { ...change(0, 205, 209), size: 200 };
    const all = [...restless, ...lasting, passing, beside];
    const { isRestless, others } = splitRestless(all, values, noise(3));
    expect(isRestless).toBe(true);
    expect(others).toEqual([passing]);
  });

  it("leaves all as it is where changes are rare, and names nothing where nothing lasts or stands out amid many", () => {
    expect(splitRestless(lasting, values, noise(3))).toEqual({
      isRestless: false,
      lasting: [],
      others: lasting,
    });
    expect(splitRestless(restless, values, noise(3))).toEqual({ isRestless: true, lasting: [], others: [] });
    // One that takes long is no restlessness.
    const long = [change(2, 50, 300)];
    expect(splitRestless(long, values, noise(3)).others).toEqual(long);
  });

  it("keeps what comes again and again for a short time", () => {
    const sparks = Array.from({ length: 12 }, (_, i) => change(2, 30 * i, 30 * i + 3));
    expect(splitRestless(sparks, values, noise(3))).toEqual({
      isRestless: false,
      lasting: [],
      others: sparks,
    });
  });

  it("leaves a slow change alone that takes as long as anything changes", () => {
    const courses = Array.from({ length: 30 }, (_, k) => step(60 + 9 * k, 15));
    const slow = courses.map((_, k) => change(k, 55 + 9 * k, 66 + 9 * k));
    expect(splitRestless(slow, samples(courses), noise(30)).isRestless).toBe(false);
  });
});

import type { ArrivalMap } from "@frontpace/arrival";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { passesInPart } from "../../src/following/passes-in-part.js";
import { measureTake } from "../../src/measure-take.js";
import { seededNormal } from "../render-take.js";

const [rows, columns] = [56, 72];

function mapOf(kind: ArrivalMap["kind"], isPassed: (x: number, y: number) => boolean) {
  const arrival = Float64Array.from({ length: rows * columns }, (_, i) =>
    isPassed(i % columns, Math.floor(i / columns)) ? i : Number.NaN,
  );
  return { kind, arrival, rows, columns } as unknown as ArrivalMap;
}

describe("passesInPart", () => {
  const isNear = (x: number, y: number) => Math.abs(y - 10 - x / 2) < 8;
  const way = (Math.atan2(1, 2) * 180) / Math.PI;

  it("is told by how far the places that were passed spread across the way", () => {
    expect(passesInPart(mapOf("passes", isNear), way)).toBe(true);
    expect(passesInPart(mapOf("passes", isNear), way + 90)).toBe(false);
    expect(
      passesInPart(
        mapOf("passes", () => true),
        way,
      ),
    ).toBe(false);
  });

  it("is nothing that a front that stays could be", () => {
    expect(passesInPart(mapOf("stays", isNear), way)).toBe(false);
  });

  it("a spot that flies past is no front, though its arrivals lie on a line along which it could be followed", async () => {
    const normal = seededNormal(1);
    const frames = Array.from({ length: 40 }, (_, t) => {
      const [px, py] = [2.4 * t - 10, 12 + 0.8 * t];
      return Float32Array.from({ length: rows * columns }, (_, k) => {
        const away = ((k % columns) - px) ** 2 + (Math.floor(k / columns) - py) ** 2;
        return 100 + 60 * Math.exp(-away / (2 * 4.5 ** 2)) + 2 * normal();
      });
    });
    const take = {
      name: "invented",
      numbers: frames.map((_, k) => k),
      rows,
      columns,
      bitDepth: 32,
      async *frames({ start = 0, end = frames.length }: { start?: number; end?: number } = {}) {
        for (let index = start; index < end; index++)
          yield { index, number: index, frame: ndarray(frames[index], [rows, columns]) };
      },
    };
    const { result } = await measureTake({ frames: take }, { rateHz: 1e3, metresPerPixel: 1 });
    expect(result.status).toBe("not-found");
    expect(result.warnings.map(({ code }) => code)).toContain("only-a-spot");
  });
});

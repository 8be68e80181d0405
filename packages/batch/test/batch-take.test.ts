import { truncate, utimes } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { batchTake } from "../src/batch-take.js";

describe("batchTake", () => {
  it("does not wait for a damaged take that was copied with times ahead of this clock: it does not grow", async () => {
    const folder = await temporaryFolder();
    const take = join(folder, "tile-1");
    await renderTake(take, { numbers: range(0, 9), pixelsPerFrame: 2, rows: 16, columns: 32 });
    const first = join(take, "0000.png");
    await truncate(first, 40);
    const inAnHour = Date.now() / 1000 + 3600;
    await utimes(first, inAnHour, inAnHour);
    const stages: string[] = [];
    const job = {
      folder,
      name: "tile-1",
      out: join(folder, "out"),
      defaults: { rateHz: 1000, metresPerPixel: 1e-3 },
      wanted: { pictures: false, report: false },
    };
    const outcome = await batchTake(job, ({ stage }) => stages.push(stage));
    expect(outcome.error?.code).toBe("corrupt-frame");
    expect(stages).not.toContain("waiting until it is complete");
  }, 60_000);
});

import { readFile } from "node:fs/promises";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import * as batch from "../src/index.js";
import {
  assembleSummary,
  type MeasuredOutcome,
  summaryCsv,
  summaryJsonSchema,
  type TakeOutcome,
} from "../src/index.js";

const speed = (value: number, scale = 7) => ({
  value,
  standardUncertainty: Math.hypot(2, scale),
  expandedUncertainty: 2 * Math.hypot(2, scale),
  coverageFactor: 2,
  coverageProbability: 0.95 as const,
  degreesOfFreedom: null,
  complete: true,
  missing: [],
  budget: [
    { source: "fit", type: "A" as const, standardUncertainty: 2, degreesOfFreedom: 60 },
    { source: "scale", type: "B" as const, standardUncertainty: scale, degreesOfFreedom: null },
  ],
});
const measured = (name: string, value: number): TakeOutcome => ({
  name,
  result: {
    status: "measured",
    speed: speed(value),
    lowerBound: null,
    notFound: null,
    measurand: "mid-level",
    framesHash: name,
    frames: { first: 10, last: 20 },
    warnings: [{ code: "front-leaves", message: "the front leaves the path in frame 31" }],
    text: `${value} m/s`,
  },
  error: null,
  isNew: true,
  shared: { scale: "2e-4 1e-6", rate: "1e5 10" },
  footage: { origin: name, isCopy: false },
});
const failed: TakeOutcome = {
  name: "cut",
  result: null,
  error: { code: "corrupt-frame", message: 'tile_0005.png, "cut"' },
  isNew: true,
  shared: null,
  footage: null,
};
const outcomes = [failed, measured("firing/a", 1500), measured("firing/b", 1504), measured("other/c", 900)];

describe("the package", () => {
  it("exports these values and no others", () => {
    expect(Object.keys(batch).sort()).toEqual(EXPORTS);
  });

  it("holds the JSON Schema that its code generates (pnpm schema writes it), and a summary fits it", async () => {
    const text = await readFile(new URL("../schema/summary.schema.json", import.meta.url), "utf8");
    expect(JSON.parse(text)).toEqual(await summaryJsonSchema());
    const validate = new Ajv2020({ strict: true, strictTuples: false }).compile(JSON.parse(text));
    const summary = JSON.parse(JSON.stringify(assembleSummary(outcomes)));
    expect(validate(summary), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...summary, extra: 1 })).toBe(false);
    expect(validate({ ...summary, counts: undefined })).toBe(false);
  });
});

describe("assembleSummary", () => {
  it("counts what became of the takes, and means those of one folder only", () => {
    const { counts, repeats } = assembleSummary(outcomes);
    expect(counts).toEqual({ takes: 4, measured: 3, bounded: 0, notFound: 0, failed: 1 });
    expect(repeats).toHaveLength(1);
    expect(repeats[0]).toMatchObject({
      folder: "firing",
      takes: ["firing/a", "firing/b"],
      mean: { value: 1502 },
    });
    expect(repeats[0].shared).toEqual([{ source: "scale", standardUncertainty: 7 }]);
  });

  it("a rate or scale that one take does not state makes the mean a reading only", () => {
    const other = measured("firing/b", 1504);
    const unstated = {
      ...other.result!,
      speed: { ...speed(1504), complete: false, missing: ["rate" as const] },
    };
    const { repeats } = assembleSummary([
      measured("firing/a", 1500),
      { ...other, result: unstated } as TakeOutcome,
    ]);
    expect(repeats[0].mean).toMatchObject({ complete: false, missing: ["rate"] });
  });
});

describe("frames that are measured twice", () => {
  const from = (
    name: string,
    value: number,
    origin: string,
    frames = { first: 10, last: 20 },
    framesHash = name,
  ): TakeOutcome => {
    const outcome = measured(name, value) as MeasuredOutcome;
    return {
      ...outcome,
      result: { ...outcome.result, framesHash, frames },
      footage: { origin, isCopy: origin !== name },
    };
  };
  const asOf = (all: readonly TakeOutcome[]) => {
    const { takes, repeats } = assembleSummary(all);
    return {
      same: takes.filter((one) => one.sameEventAs !== null).map((one) => [one.take, one.sameEventAs]),
      counted: repeats.map((one) => one.takes),
    };
  };

  it("count once: a copy of the frames of an event, whatever its name, for the take that they are of", () => {
    expect(asOf([from("a", 1501, "long"), from("long", 1500, "long"), from("next", 1490, "next")])).toEqual({
      same: [["a", "long"]],
      counted: [["long", "next"]],
    });
    expect(asOf([from("a", 1501, "long"), from("long", 1500, "long")])).toEqual({
      same: [["a", "long"]],
      counted: [],
    });
  });

  it("count each where they are of two events of one take", () => {
    const later = { first: 21, last: 30 };
    expect(asOf([from("a", 1500, "long"), from("b", 1502, "long", later)])).toEqual({
      same: [],
      counted: [["a", "b"]],
    });
  });

  it("count once where a folder was copied whole, and each in folders of their own", () => {
    const copied = from("tile copy", 1500, "tile copy", undefined, "tile");
    expect(asOf([measured("tile", 1500), copied])).toEqual({ same: [["tile copy", "tile"]], counted: [] });
    expect(asOf([measured("tile", 1500), from("b/tile", 1500, "b/tile", undefined, "tile")]).same).toEqual(
      [],
    );
  });
});

describe("summaryCsv", () => {
  it("has a row for each take, quoted where it must be", () => {
    const rows = summaryCsv(assembleSummary(outcomes)).split("\r\n");
    expect(rows).toHaveLength(6);
    expect(rows[1]).toBe('cut,failed,,,,,,"tile_0005.png, ""cut""",,');
    expect(rows[2]).toMatch(/^firing\/a,measured,1500,7\.28\d*,14\.56\d*,true,,,front-leaves,$/);
  });

  it("names the take that counts in place of one that shows the same event", () => {
    const first = measured("=tile", 1500) as MeasuredOutcome;
    const summary = assembleSummary([first, { ...first, name: "tile copy" }]);
    const [head, , copy] = summaryCsv(summary).split("\r\n");
    expect(head.split(",").pop()).toBe("same_event_as");
    expect(copy).toMatch(/^tile copy,measured,.*,front-leaves,'=tile$/);
  });

  it.each([
    ["=1+1", "'=1+1"],
    ["+49", "'+49"],
    ["-7", "'-7"],
    ["@SUM(A1)", "'@SUM(A1)"],
    ["\ttile", '"\'\ttile"'],
    ["\rtile", '"\'\rtile"'],
    ["\uFF1D1", "'\uFF1D1"],
    ['=HYPERLINK("x","y")', `"'=HYPERLINK(""x"",""y"")"`],
    // Where cells are parted at semicolons the second one would begin with the formula.
    ["tile;=1+1", '"tile;=1+1"'],
    ["tile=1", "tile=1"],
    ["it's", "it's"],
  ])(
    "keeps a spreadsheet from running the name %j, of which summary.json keeps every letter",
    (name, cell) => {
      const summary = assembleSummary([measured(name, -1500.25)]);
      expect(summaryCsv(summary).split("\r\n").slice(1).join("\r\n")).toMatch(`${cell},measured,-1500.25,`);
      expect(summary.takes[0].take).toBe(name);
    },
  );

  it("keeps it from running what a message begins with", () => {
    const failed = { name: "a", result: null, error: { code: "x", message: "=1 is damaged" } };
    const [, row] = summaryCsv(
      assembleSummary([{ ...failed, isNew: true, shared: null, footage: null }]),
    ).split("\r\n");
    expect(row).toBe("a,failed,,,,,,'=1 is damaged,,");
  });
});

const EXPORTS = [
  "OVERLAY_KINDS",
  "REPORT_FILES",
  "REPORT_PICTURES",
  "SEQUENCE_NAME",
  "amongOthers",
  "assembleSummary",
  "describeAir",
  "describeMaterial",
  "drawOverlays",
  "drawReport",
  "drawSearch",
  "findTakes",
  "meanOfRepeats",
  "measureToFiles",
  "runBatch",
  "summaryCsv",
  "summaryJsonSchema",
  "watchBatch",
  "writeSummary",
];

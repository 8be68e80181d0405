import { describe, expect, it } from "vitest";
import { openFrames } from "../src/index.js";
import { scratchFolder } from "./support/scratchFolder.js";

async function open(names: readonly string[], frameStep?: number) {
  const folder = await scratchFolder(names);
  const sequence = await openFrames(folder, frameStep === undefined ? {} : { frameStep });
  return {
    numbers: sequence.numbers,
    warnings: sequence.warnings,
    codes: sequence.warnings.map((w) => w.code),
  };
}

async function failure(names: readonly string[]) {
  const folder = await scratchFolder(names);
  return openFrames(folder).then(
    () => undefined,
    (error) => error,
  );
}

describe("the frame number", () => {
  const claims: [claim: string, names: string[], numbers: number[], codes: string[]][] = [
    ["orders naturally without padding", ["t10.png", "t9.png", "t11.png"], [9, 10, 11], []],
    ["survives any prefix and suffix", ["a b_0007 (raw).TIF.png", "a b_0008 (raw).TIF.png"], [7, 8], []],
    ["is taken from a name of digits alone", ["001.png", "002.png"], [1, 2], []],
    ["takes - as a separator where all names have it", ["tile-0001.png", "tile-0002.png"], [1, 2], []],
    [
      "takes - as a sign where some names have it",
      ["t_-02.png", "t_-01.png", "t_00.png", "t_01.png"],
      [-2, -1, 0, 1],
      [],
    ],
    [
      "takes - as a sign right behind letters too",
      ["take-01.png", "take00.png", "take01.png"],
      [-1, 0, 1],
      [],
    ],
    ["takes a second - as a sign", ["shot--01.png", "shot-00.png", "shot-01.png"], [-1, 0, 1], []],
    ["takes + as a sign", ["t-01.png", "t+00.png", "t+01.png"], [-1, 0, 1], []],
    ["is the same with + throughout", ["t_+0001.png", "t_+0002.png"], [1, 2], []],
    [
      "is below zero throughout behind another separator",
      ["f_-03.png", "f_-02.png", "f_-01.png"],
      [-3, -2, -1],
      ["sign"],
    ],
    ["is below zero throughout at the start of the name", ["-2.png", "-1.png"], [-2, -1], ["sign"]],
    ["is below zero throughout behind a doubled -", ["s--2.png", "s--1.png"], [-2, -1], ["sign"]],
    ["is zero for -0", ["t_-1.png", "t_-0.png", "t_1.png"], [-1, 0, 1], []],
    ["ignores groups that do not vary", ["2031-05-03_c2_01.png", "2031-05-03_c2_02.png"], [1, 2], []],
    ["is read behind a number joined by -", ["cam3-01.png", "cam3-02.png"], [1, 2], []],
    ["is the last group of a single still, and says so", ["c2_0041.png"], [41], ["number-group"]],
    ["of a single still takes - as a separator behind letters", ["tile-0041.png"], [41], []],
    ["of a single still takes - as a sign behind another separator", ["tile_-0041.png"], [-41], ["sign"]],
    ["does not care about the case of the extension", ["t1.PNG", "t2.png", "t3.Png"], [1, 2, 3], []],
  ];
  it.each(claims)("%s", async (_claim, names, numbers, codes) => {
    const opened = await open(names);
    expect(opened.numbers.map((n) => Object.is(n, -0))).not.toContain(true);
    expect({ numbers: opened.numbers, codes: opened.codes }).toEqual({ numbers, codes });
  });

  it("comes from the group with steps of one where several vary, and a warning names it", async () => {
    const { numbers, warnings } = await open([
      "t1_000us.png",
      "t2_005us.png",
      "t3_010us.png",
      "t5_020us.png",
    ]);
    expect(numbers).toEqual([1, 2, 3, 5]);
    expect(warnings.map((w) => w.code)).toEqual(["number-group", "missing-frames"]);
    expect(warnings[0].message).toContain('group 1 ("1" in t1_000us.png)');
  });

  it("comes from the later group where that has the steps of one", async () => {
    expect((await open(["t000us_1.png", "t005us_2.png", "t010us_3.png"])).numbers).toEqual([1, 2, 3]);
  });

  it("comes from the group with steps of one where the other is irregular", async () => {
    expect((await open(["t1_000.png", "t2_007.png", "t3_012.png", "t4_020.png"])).numbers).toEqual([
      1, 2, 3, 4,
    ]);
  });

  it("comes from the group with the smallest steps where none has steps of one", async () => {
    expect((await open(["t04_020us.png", "t08_040us.png", "t12_060us.png"])).numbers).toEqual([4, 8, 12]);
  });

  it("jumps where a still is missing, and a warning says how many and which", async () => {
    const { numbers, warnings } = await open(["t1.png", "t2.png", "t4.png", "t9.png"]);
    expect(numbers).toEqual([1, 2, 4, 9]);
    expect(warnings).toHaveLength(1);
    expect(warnings[0].code).toBe("missing-frames");
    expect(warnings[0].message).toContain("5 frames are missing (3, 5 to 8)");
  });

  it("that is missing is counted within a range of frames where only that range is used", async () => {
    const folder = await scratchFolder(["t1.png", "t2.png", "t4.png", "t9.png", "t10.png", "note.txt"]);
    const sequence = await openFrames(folder);
    const within = (start: number, end: number) => sequence.warningsWithin({ start, end });
    expect(sequence.warningsWithin()).toEqual(sequence.warnings);
    expect(within(0, 3).map(({ code }) => code)).toEqual(["ignored-files", "missing-frames"]);
    expect(within(0, 3)[1].message).toContain("1 frame is missing (3)");
    expect(within(3, 5).map(({ code }) => code)).toEqual(["ignored-files"]);
    expect(() => within(0, 6)).toThrow(RangeError);
  });

  it("repeated by padding is an error that names both files", async () => {
    const error = await failure(["a_001.png", "a_1.png", "a_2.png"]);
    expect(error).toMatchObject({ code: "repeated-number", file: "a_1.png", otherFile: "a_001.png" });
    expect(error.message).toMatch(/a_001\.png and a_1\.png/);
  });

  it("repeated by extension is an error that names both files", async () => {
    const error = await failure(["001.png", "001.tif", "002.png"]);
    expect(error).toMatchObject({ code: "repeated-number", file: "001.tif", otherFile: "001.png" });
  });

  it("repeated by a second camera in the folder is an error", async () => {
    expect(
      await failure(["c1_01.png", "c1_02.png", "c1_03.png", "c2_01.png", "c2_02.png", "c2_03.png"]),
    ).toMatchObject({
      code: "repeated-number",
      otherFile: "c1_01.png",
      file: "c2_01.png",
    });
  });

  it("of more than 15 digits is an error, unless another group counts", async () => {
    const stamps = ["20310503120000123456", "20310503120000123457"];
    expect(await failure(stamps.map((s) => `t${s}.png`))).toMatchObject({ code: "number-too-large" });
    expect((await open(stamps.map((s, i) => `t${s}_${i}.png`))).numbers).toEqual([0, 1]);
  });

  it("with more than a sign in front of it in one file only is an error", async () => {
    expect(await failure(["t1.png", "t2.png", "t--3.png"])).toMatchObject({
      code: "ambiguous-sequence",
      file: "t--3.png",
    });
  });
});

describe("frameStep", () => {
  it("leaves numbers alone that already rise by it, and steps of it are no gaps", async () => {
    const { numbers, warnings, codes } = await open(["t10.png", "t20.png", "t40.png"], 10);
    expect(numbers).toEqual([10, 20, 40]);
    expect(codes).toEqual(["sub-sampled", "missing-frames"]);
    expect(warnings[0].message).toContain("taken as frame numbers");
    expect(warnings[1].message).toContain("1 frame is missing (30)");
    const sequence = await openFrames(await scratchFolder(["t10.png", "t20.png", "t40.png", "t60.png"]), {
      frameStep: 10,
    });
    const [, missing] = sequence.warningsWithin({ start: 1, end: 4 });
    expect(missing.message).toContain("2 frames are missing (30, 50)");
  });

  it("multiplies numbers that count stills, gaps included", async () => {
    const { numbers, warnings } = await open(["t-1.png", "t0.png", "t1.png", "t3.png"], 4);
    expect(numbers).toEqual([-4, 0, 4, 12]);
    expect(warnings[0].message).toContain("4 times the number in the name");
    expect(warnings[1].message).toContain("1 frame is missing (8)");
  });

  it("of one changes nothing and asks nothing", async () => {
    expect(await open(["t10.png", "t11.png"], 1)).toEqual({ numbers: [10, 11], warnings: [], codes: [] });
  });

  it("undeclared with a common step gives one warning that says how to declare it", async () => {
    const { numbers, warnings } = await open(["t5.png", "t15.png", "t35.png"]);
    expect(numbers).toEqual([5, 15, 35]);
    expect(warnings.map((w) => w.code)).toEqual(["common-step"]);
    expect(warnings[0].message).toContain("frameStep 10");
  });

  it.each([0, -1, 2.5, Number.NaN, Number.POSITIVE_INFINITY])("of %d is a RangeError", async (frameStep) => {
    const folder = await scratchFolder(["t1.png"]);
    await expect(openFrames(folder, { frameStep })).rejects.toThrow(RangeError);
    await expect(openFrames(folder, { frameStep })).rejects.toThrow(`frameStep must be a whole number >= 1`);
  });

  it("that carries a number out of the safe range is an error", async () => {
    const folder = await scratchFolder(["t900719925474099.png", "t900719925474100.png"]);
    await expect(openFrames(folder, { frameStep: 100 })).rejects.toMatchObject({ code: "number-too-large" });
  });
});

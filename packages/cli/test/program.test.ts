import { programVersion, TakeError } from "@frontpace/take";
import { describe, expect, it, vi } from "vitest";
import { progressLine } from "../src/terminal/progress-line.js";
import { capture, runCaptured } from "./capture.js";

const failure = vi.hoisted(() => ({ error: null as unknown }));
vi.mock("../src/measure/measure-action.js", () => ({
  measureAction: async () => {
    throw failure.error;
  },
}));

describe("frontpace", () => {
  it("prints help and version on standard output and exits 0", async () => {
    expect(await runCaptured(["--version"])).toEqual({ code: 0, stdout: `${programVersion}\n`, stderr: "" });
    const help = await runCaptured(["measure", "--help"]);
    expect(help).toMatchObject({ code: 0, stderr: "" });
    expect(help.stdout).toContain("ONE STANDARD UNCERTAINTY");
    expect(help.stdout).toContain("+-0 states on purpose");
    expect(help.stdout.replace(/\s+/g, " ")).toContain(
      "--width <px> width of the band averaged across the path (default: 15 about a given path, else the whole picture)",
    );
    expect((await runCaptured(["--help"])).stdout).toContain("measure");
  });

  it("prints help on standard error and exits 2 where no command is named", async () => {
    const { code, stdout, stderr } = await runCaptured([]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/^Usage: frontpace /);
    expect(stderr).not.toContain("error:");
  });

  it.each([
    ["anything unforeseen", new TypeError("x is not a function"), "x is not a function"],
    [
      "a number that is none",
      new TakeError("not-finite", "result.speed.value is NaN"),
      "result.speed.value is NaN",
    ],
    ["something that is no error", "a text", "a text"],
  ])("calls %s a fault, exits 1 and shows no stack", async (_what, error, words) => {
    failure.error = error;
    const { code, stdout, stderr } = await runCaptured(["measure", "x"]);
    expect({ code, stdout }).toEqual({ code: 1, stdout: "" });
    expect(stderr).toContain(`error: a fault of the program, not of your input: ${words}`);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });

  it("shows the stack of a fault where FRONTPACE_DEBUG is set", async () => {
    failure.error = new TypeError("x is not a function");
    const { stderr } = await runCaptured(["measure", "x"], { env: { FRONTPACE_DEBUG: "1" } });
    expect(stderr).toMatch(/\n {4}at /);
  });

  it("colours the word error on a terminal, unless NO_COLOR asks for none", async () => {
    failure.error = new TakeError("path-empty", "no length");
    const coloured = await runCaptured(["measure", "x"], { isTTY: true });
    expect(coloured.stderr).toBe("\u001b[33merror:\u001b[39m no length\n");
    const plain = await runCaptured(["measure", "x"], { isTTY: true, env: { NO_COLOR: "1" } });
    expect(plain.stderr).toBe("error: no length\n");
    expect((await runCaptured(["measure", "x"])).stderr).toBe("error: no length\n");
  });
});

describe("progressLine", () => {
  it("is drawn and taken away on a terminal", () => {
    const { context, stderr, stdout } = capture({ isTTY: true });
    const line = progressLine(context);
    line.update({ stage: "reading", done: 6, total: 12 });
    line.clear();
    expect(stderr()).toBe("\r\u001b[2K[############------------] reading 6/12\r\u001b[2K");
    expect(stdout()).toBe("");
  });

  it("is not there where standard error is no terminal", () => {
    const { context, stderr } = capture();
    const line = progressLine(context);
    line.update({ stage: "reading", done: 6, total: 12 });
    line.clear();
    expect(stderr()).toBe("");
  });
});

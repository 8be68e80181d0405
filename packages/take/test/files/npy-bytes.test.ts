import { spawnSync } from "node:child_process";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { npyBytes } from "../../src/files/npy-bytes.js";
import { temporaryFolder } from "../render-take.js";

const values = Float64Array.of(1.5, Number.NaN, -2e-7, Number.MAX_VALUE, 0, 1 / 3);

describe("npyBytes", () => {
  it("writes the header of format 1.0 and the values behind it, bit by bit", () => {
    const bytes = Buffer.from(npyBytes(values, [2, 3]));
    // NumPy Enhancement Proposal 1: magic, version, length of the header, header padded to a multiple of 64 in all.
    expect([...bytes.subarray(0, 8)]).toEqual([0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59, 1, 0]);
    const start = 10 + bytes.readUInt16LE(8);
    expect(start % 64).toBe(0);
    const header = bytes.toString("latin1", 10, start);
    expect(header).toMatch(/^\{'descr': '<f8', 'fortran_order': False, 'shape': \(2, 3\), \} *\n$/);
    const read = Array.from(values, (_, k) => bytes.readDoubleLE(start + 8 * k));
    expect(read).toEqual([...values]);
    expect(bytes.length).toBe(start + 8 * 6);
  });

  it("refuses a shape of another size", () => {
    expect(() => npyBytes(values, [2, 2])).toThrow(
      new RangeError("values must hold rows x columns = 4 values, got 6"),
    );
  });
});

const python = "/usr/bin/python3";
const hasNumpy = spawnSync(python, ["-c", "import numpy"]).status === 0;

describe.skipIf(!hasNumpy && process.env.FRONTPACE_REQUIRE_ALL !== "1")("with NumPy installed", () => {
  it("numpy.load reads the array without pickle, value by value", async () => {
    const file = join(await temporaryFolder(), "array.npy");
    await writeFile(file, npyBytes(values, [2, 3]));
    const script =
      "import numpy, sys; a = numpy.load(sys.argv[1], allow_pickle=False); print(a.dtype.str, a.shape, a.tobytes().hex())";
    const { status, stdout } = spawnSync(python, ["-c", script, file], { encoding: "utf8" });
    expect(status).toBe(0);
    const hex = Buffer.from(values.buffer).toString("hex");
    expect(stdout.trim()).toBe(`<f8 (2, 3) ${hex}`);
  });
});

import { execFileSync } from "node:child_process";
import { cp, mkdir, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { findTakes } from "../src/find-takes.js";
import { takeIdentity } from "../src/take-identity.js";

const root = await temporaryFolder();
const take = await renderTake(join(root, "tile"), { numbers: range(0, 4), pixelsPerFrame: 2 });
const wanted = { pictures: false, report: false };

describe("what a take was made from", () => {
  it("is the same for the same frames and options, and another one for others", async () => {
    const known = await takeIdentity(take, { rateHz: 1000, width: 8 }, wanted);
    expect(known).toMatch(/^[0-9a-f]{64}$/);
    const copied = join(root, "copied", "tile");
    await cp(take, copied, { recursive: true });
    expect(await takeIdentity(copied, { width: 8, rateHz: 1000 }, wanted)).toBe(known);
    expect(await takeIdentity(take, { rateHz: 1000, width: 9 }, wanted)).not.toBe(known);
    await writeFile(join(copied, "0002.png"), "half");
    expect(await takeIdentity(copied, { rateHz: 1000, width: 8 }, wanted)).not.toBe(known);
  });

  it("that cannot be read is said as measuring says it, and a still that may be left out is no error", async () => {
    const broken = join(root, "broken");
    await cp(take, broken, { recursive: true });
    await symlink(join(root, "nowhere.png"), join(broken, "0005.png"));
    await expect(takeIdentity(broken, {}, wanted)).rejects.toMatchObject({
      code: "unreadable-frame",
      message: expect.stringMatching(/^0005\.png could not be read .* restore it or take it out$/),
    });
    const without = await takeIdentity(broken, { skipBad: true }, wanted);
    expect(without).not.toBe(await takeIdentity(take, { skipBad: true }, wanted));
    const calibration = join(root, "no-scale.json");
    await expect(takeIdentity(take, { calibration }, wanted)).rejects.toMatchObject({
      code: "file-unreadable",
      message: expect.stringContaining("it does not exist"),
    });
    await rm(broken, { recursive: true });
    await expect(takeIdentity(broken, {}, wanted)).rejects.toMatchObject({ code: "not-a-folder" });
  });

  it.skipIf(process.platform === "win32")(
    "is not waited for where a pipe or a folder is named like a still",
    async () => {
      const odd = join(root, "odd");
      await cp(take, odd, { recursive: true });
      execFileSync("mkfifo", [join(odd, "0000.pipe.png")]);
      expect((await findTakes(odd)).map(({ name }) => name)).toEqual(["."]);
      await rm(join(odd, "0000.pipe.png"));
      for (const [make, words] of [
        [() => execFileSync("mkfifo", [join(odd, "0007.png")]), "0007.png is not a regular file"],
        [() => mkdir(join(odd, "0007.png")), "0007.png is a folder, though it is named like a still"],
      ] as const) {
        await make();
        await expect(takeIdentity(odd, {}, wanted)).rejects.toMatchObject({
          code: "unreadable-frame",
          message: expect.stringContaining(words),
        });
        await rm(join(odd, "0007.png"), { recursive: true });
      }
    },
  );
});

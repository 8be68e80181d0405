import { mkdir, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openFrames } from "@frontpace/frame-loader";
import { drawFoundPoints } from "@frontpace/report";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { findTakes } from "../src/find-takes.js";

describe("findTakes", async () => {
  const root = await temporaryFolder();
  const still = { numbers: range(0, 1), pixelsPerFrame: 2, rows: 4, columns: 16 };
  const names = async (except: readonly string[] = []) =>
    (await findTakes(root, { except })).map(({ name }) => name);

  beforeAll(async () => {
    await renderTake(join(root, "b", "tile-2"), still);
    await renderTake(join(root, "b", "tile-1"), still);
    await renderTake(join(root, "a"), still);
    await renderTake(join(root, "out", "seen"), still);
    await renderTake(join(root, ".hidden"), still);
    await renderTake(join(root, "one"), { ...still, numbers: [4] });
    await mkdir(join(root, "files"));
    for (const name of ["spark.npy", "spark.mp4", "log.txt", "camera.dat", "camera.take.json", "other.dat"])
      await writeFile(join(root, "files", name), "");
    await symlink(join(root, "b"), join(root, "again"));
  });

  it("finds folders of stills and files of frames, in order of name, whatever lies deeper", async () => {
    expect(await names()).toEqual([
      "a",
      "b/tile-1",
      "b/tile-2",
      "files/camera.dat",
      "files/spark.mp4",
      "files/spark.npy",
      "out/seen",
    ]);
  });

  it("passes over a folder that is named, what is hidden, single stills and links", async () => {
    expect(await names([join(root, "out")])).not.toContain("out/seen");
  });

  it("passes over what a measurement and an overlay left beside their result", async () => {
    const day = await temporaryFolder();
    await renderTake(join(day, "tile-frontpace", "overlay"), still);
    await renderTake(join(day, "edit", "overlay"), still);
    const left = ["arrival-time.npy", "local-speed.npy", "overlay.mp4", "result.json", "spark.npy"];
    for (const name of left) await writeFile(join(day, "tile-frontpace", name), "");
    await writeFile(join(day, "edit", "arrival-time.npy"), "");
    const found = (await findTakes(day)).map(({ name }) => name);
    // Without a result beside them they are of someone else.
    expect(found).toEqual(["edit/arrival-time.npy", "edit/overlay", "tile-frontpace/spark.npy"]);
  });

  it("passes over pictures that say that they were drawn, and tells of them; not where footage stands among them", async () => {
    const day = await temporaryFolder();
    const points = await drawFoundPoints({
      data: new Float64Array(64),
      shape: [8, 8],
      points: [[1, 1]],
      joined: "axes",
      title: "still.png",
    });
    const white = { create: { width: 8, height: 8, channels: 3, background: "#ffffff" } } as const;
    const plain = await sharp(white).png().toBuffer();
    for (const [folder, second] of Object.entries({ scale: points, mixed: plain })) {
      await mkdir(join(day, folder));
      await writeFile(join(day, folder, "points-1.png"), points);
      await writeFile(join(day, folder, "points-2.png"), second);
    }
    const drawn: string[] = [];
    const found = await findTakes(day, { onDrawn: (name) => drawn.push(name) });
    expect({ drawn, found: found.map(({ name }) => name) }).toEqual({ drawn: ["scale"], found: ["mixed"] });
  });

  it("passes over the table of times that NAME.take.json names, and notes beside a file that says what it holds", async () => {
    const day = await temporaryFolder();
    const head = { format: "frontpace-take", version: 1 };
    const described = {
      "ramp.take.json": { ...head, timestamps: "ramp.csv" },
      "spark.take.json": head,
      "shot.take.json": { ...head, raw: "16x4:u8", timestamps: "shot.csv" },
    };
    for (const [name, content] of Object.entries(described))
      await writeFile(join(day, name), JSON.stringify(content));
    for (const name of ["ramp.dat", "ramp.csv", "spark.mp4", "spark.txt", "shot.bin", "shot.csv", "shot.mp4"])
      await writeFile(join(day, name), "");
    const found = (await findTakes(day)).map(({ name }) => name);
    expect(found).toEqual(["ramp.dat", "shot.bin", "shot.mp4", "spark.mp4"]);
  });

  it("finds a file of frames by a link to it, and none by a dead link", async () => {
    const day = await temporaryFolder();
    await symlink(join(root, "files", "spark.npy"), join(day, "spark.npy"));
    await symlink(join(root, "files", "gone.npy"), join(day, "gone.npy"));
    expect((await findTakes(day)).map(({ name }) => name)).toEqual(["spark.npy"]);
  });

  it("calls the folder itself a dot where it is a take", async () => {
    expect(await findTakes(join(root, "a"))).toEqual([{ name: ".", unreadable: null }]);
  });

  it("takes multi-page TIFFs for takes, and single ones for stills", async () => {
    const containers = fileURLToPath(new URL("../../frame-loader/test/fixtures/containers", import.meta.url));
    const tiffs = (await findTakes(containers))
      .map(({ name }) => name)
      .filter((name) => /\.tiff?$/.test(name));
    expect(tiffs.length).toBeGreaterThan(0);
    for (const name of tiffs) {
      const frames = await openFrames(join(containers, name));
      expect(frames.numbers.length).toBeGreaterThan(1);
      await frames.close();
    }
    const stills = fileURLToPath(new URL("../../../fixtures/cracking-tile-backlit", import.meta.url));
    expect((await findTakes(stills)).map(({ name }) => name)).toEqual(["."]);
  });

  it("says that a folder is not there", async () => {
    await expect(findTakes(join(root, "absent"))).rejects.toMatchObject({ code: "not-a-folder" });
  });
});

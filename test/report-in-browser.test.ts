/** The pages of measured takes in a real browser. Screenshots are left in demo-output/report-pages. */
import { execFileSync } from "node:child_process";
import { mkdir, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { reportPage } from "@frontpace/report";
import { type Browser, chromium, type Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { notFound } from "../packages/report/test/invented-result.js";
import { pageOf, reportCases } from "./report-takes.js";

const executablePath = browserPath();
const isSkipped = executablePath === null && process.env.FRONTPACE_REQUIRE_ALL !== "1";
const shots = fileURLToPath(new URL("../demo-output/report-pages/", import.meta.url));
const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

/** Of 255, between the dots of the path and what they stand on. */
const PATH_CONTRAST = 60;
/** Milliseconds: a take is measured, a browser started. */
const PATIENCE = 180_000;

// The pages are opened in Chromium: without it there is nothing to open them in.
describe.skipIf(isSkipped)("with Chromium installed, the page of a take", () => {
  let browser: Browser;
  beforeAll(async () => {
    await mkdir(shots, { recursive: true });
    browser = await chromium.launch({ executablePath: executablePath ?? "chromium", args: ["--no-sandbox"] });
  }, PATIENCE);
  afterAll(() => browser?.close());

  it.each([360, 768, 1440])("fits %i px where the take has a very long name", async (width) => {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    const take = { ...notFound.take, name: "tile".repeat(50) };
    await page.setContent(await reportPage({ ...notFound, take }, { pictures: {} }));
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(width);
    await page.close();
  });

  it.each([0, 128, 255])("shows the path over a frame of grey %i", async (grey) => {
    const [rows, columns] = [40, 120];
    const picture = await sharp({
      create: { width: columns, height: rows, channels: 3, background: { r: grey, g: grey, b: grey } },
    })
      .png()
      .toBuffer();
    const take = {
      ...notFound.take,
      rows,
      columns,
      path: [
        [0, 20],
        [119, 20],
      ] as const,
    };
    const event = [{ moment: "before" as const, frame: 0, fronts: [] }];
    const page = await browser.newPage();
    await page.setContent(
      await reportPage({ ...notFound, take, event }, { pictures: { "frame-before.png": picture } }),
    );
    const shot = await page.locator(".still").screenshot();
    const { width = 0, height = 0 } = await sharp(shot).metadata();
    // Without the edge, where the page shows.
    const inside = { left: 8, top: 8, width: width - 16, height: height - 16 };
    const [{ min, max }] = (await sharp(await sharp(shot).extract(inside).greyscale().toBuffer()).stats())
      .channels;
    expect(max - min).toBeGreaterThan(PATH_CONTRAST);
    await page.close();
  });

  describe.each(reportCases)("that is $name", (one) => {
    let address: string;
    beforeAll(async () => {
      const { result, page } = await pageOf(one);
      expect(result.status).toBe(one.status);
      const file = join(shots, `${one.name}.html`);
      await writeFile(file, page);
      address = pathToFileURL(file).href;
    }, PATIENCE);

    async function open(width: number, dark: boolean, work: (page: Page) => Promise<void>) {
      const context = await browser.newContext({
        viewport: { width, height: 900 },
        colorScheme: dark ? "dark" : "light",
        bypassCSP: true,
      });
      const page = await context.newPage();
      const said: string[] = [];
      page.on("console", (message) => said.push(message.text()));
      page.on("pageerror", (error) => said.push(String(error)));
      page.on("request", (request) => {
        if (request.url() !== address && !request.url().startsWith("data:")) said.push(request.url());
      });
      await page.goto(address);
      await work(page);
      expect(said).toEqual([]);
      await context.close();
    }

    it.each([360, 768, 1440])(
      "fits %i px, says its answer first, asks for nothing and reports no error",
      async (width) => {
        await open(width, false, async (page) => {
          expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(width);
          expect((await page.locator("h1").textContent())!.replace(/\s+/g, " ")).toMatch(one.says);
          expect(await page.evaluate(textsCutOff)).toEqual([]);
          await page.screenshot({ path: join(shots, `${one.name}-${width}.png`), fullPage: true });
        });
      },
    );

    it.each([
      ["light", 1440],
      ["dark", 1440],
      ["light", 360],
    ])("has no fault that axe finds, %s at %i px", async (scheme, width) => {
      await open(Number(width), scheme === "dark", async (page) => {
        await page.addScriptTag({ path: axe });
        const { violations } = (await page.evaluate("axe.run()")) as { violations: Violation[] };
        const found = violations.map(
          ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" | ")}`,
        );
        expect(found).toEqual([]);
        await page.screenshot({ path: join(shots, `${one.name}-${scheme}-${width}.png`), fullPage: true });
      });
    });

    it.each(["A4", "Letter"] as const)("prints on %s with no picture cut", async (format) => {
      await open(1000, false, async (page) => {
        await page.emulateMedia({ media: "print" });
        const [height, width] = format === "A4" ? [297 - 32, 210 - 30] : [279.4 - 32, 215.9 - 30];
        await page.setViewportSize({ width: Math.floor((width / 25.4) * 96), height: 900 });
        const tall = (await page.evaluate(pictureSizes)) as { height: number; right: number }[];
        expect(tall.length).toBeGreaterThan(0);
        for (const picture of tall) {
          expect(picture.height).toBeLessThan((height / 25.4) * 96);
          expect(picture.right).toBeLessThanOrEqual(Math.ceil((width / 25.4) * 96));
        }
        await page.pdf({ path: join(shots, `${one.name}-${format}.pdf`), format, preferCSSPageSize: false });
      });
    });
  });
});

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}

/** Letters of charts that stand outside the page. */
const textsCutOff = `Array.from(document.querySelectorAll("svg.chart text"))
  .filter((text) => text.getClientRects().length > 0)
  .map((text) => ({ text: text.textContent, box: text.getBoundingClientRect() }))
  .filter(({ box }) => box.left < 0 || box.right > innerWidth + 0.5)
  .map(({ text }) => text)`;

/** Figures that are kept on one sheet, as they are printed. */
const pictureSizes = `Array.from(document.querySelectorAll("figure"))
  .map((figure) => figure.getBoundingClientRect())
  .filter(({ height }) => height > 0)
  .map(({ height, right }) => ({ height, right }))`;

function browserPath(): string | null {
  try {
    return execFileSync("which", ["chromium"], { encoding: "utf8" }).trim();
  } catch {
    return null;
  }
}

import { execFileSync } from "node:child_process";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Browser, chromium } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { summaryPage } from "../packages/report/src/index.js";
import { summary } from "../packages/report/test/invented-summary.js";

const shots = join(import.meta.dirname, "..", "demo-output", "report-pages");
const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const program = browserPath();

describe.skipIf(program === null && !process.env.FRONTPACE_REQUIRE_ALL)(
  "with Chromium installed, the page of a batch",
  { timeout: 120_000 },
  () => {
    let browser: Browser;
    let address: string;
    beforeAll(async () => {
      await mkdir(shots, { recursive: true });
      const file = join(shots, "summary.html");
      await writeFile(file, await summaryPage(summary));
      address = pathToFileURL(file).href;
      browser = await chromium.launch({ executablePath: program!, args: ["--no-sandbox"] });
    }, 120_000);
    afterAll(() => browser?.close());

    async function open(width: number, javaScriptEnabled = true, dark = false) {
      const context = await browser.newContext({
        viewport: { width, height: 900 },
        javaScriptEnabled,
        colorScheme: dark ? "dark" : "light",
      });
      const page = await context.newPage();
      const said: string[] = [];
      page.on("console", (message) => said.push(message.text()));
      page.on("pageerror", (error) => said.push(String(error)));
      page.on("request", (request) => {
        if (request.url() !== address && !request.url().startsWith("data:")) said.push(request.url());
      });
      await page.goto(address);
      return { page, said };
    }
    const names = "Array.from(document.querySelectorAll('tbody th')).map((cell) => cell.textContent)";

    it.each([360, 768, 1440])("fits %i px, asks for nothing and reports no error", async (width) => {
      const { page, said } = await open(width);
      expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(width);
      await page.screenshot({ path: join(shots, `summary-${width}.png`), fullPage: true });
      expect(said).toEqual([]);
    });

    it("sorts by speed up and down, takes without one last or first, and back by name, by keyboard as by mouse", async () => {
      const { page, said } = await open(1440);
      await page.getByRole("button", { name: "Speed, m/s" }).click();
      expect(await page.evaluate(names)).toEqual([
        "spark",
        "firing/tile-1",
        "firing/tile-3",
        "firing/tile-2",
        "cut",
      ]);
      await page.keyboard.press("Enter");
      expect(await page.evaluate(names)).toEqual([
        "cut",
        "firing/tile-2",
        "firing/tile-3",
        "firing/tile-1",
        "spark",
      ]);
      expect(await page.locator("th[aria-sort=descending]").textContent()).toBe("Speed, m/s");
      await page.getByRole("button", { name: "Take" }).click();
      expect(await page.evaluate(names)).toEqual(summary.takes.map(({ take }) => take));
      expect(said).toEqual([]);
    });

    it("shows the speeds on a telephone without scrolling, and prints a long table from the first sheet on, its head whole", async () => {
      const { page } = await open(360);
      const numbers = page.locator("tbody .number");
      for (const box of await Promise.all((await numbers.all()).map((cell) => cell.boundingBox())))
        expect(box!.x + box!.width).toBeLessThanOrEqual(344);
      await page.emulateMedia({ media: "print" });
      const style = (which: string, key: string) =>
        page.evaluate(`getComputedStyle(document.querySelector("${which}")).${key}`);
      expect(await style("table.takes", "breakInside")).toBe("auto");
      expect(await style(".takes tbody tr", "breakInside")).toBe("avoid");
      expect(await style(".takes thead button", "display")).toBe("contents");
      await page.pdf({ path: join(shots, "summary-A4.pdf"), format: "A4" });
    });

    it.each([360, 1440])("shows the speeds at %i px beside a take of a very long name", async (width) => {
      const { page } = await open(width);
      const takes = summary.takes.map((one, k) => (k === 0 ? { ...one, take: "tile".repeat(50) } : one));
      await page.setContent(await summaryPage({ ...summary, takes }));
      const table = (await page.locator(".scroll").boundingBox())!;
      for (const cell of await page.locator("tbody .number").all()) {
        const box = (await cell.boundingBox())!;
        expect(box.x + box.width).toBeLessThanOrEqual(table.x + table.width);
      }
    });

    it("has all remarks in sight at 1440 px, words without spaces in them too", async () => {
      const { page } = await open(1440);
      const error = { code: "invalid-value", message: `raw must be ${"COLUMNSxROWS:u8|u16le|".repeat(4)}` };
      const takes = summary.takes.map((one) => (one.error ? { ...one, error } : one));
      await page.setContent(await summaryPage({ ...summary, takes }));
      const widths = "(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)";
      expect(await page.evaluate(`${widths}(document.querySelector(".scroll"))`)).toBe(0);
    });

    it("reads without its script, and has no buttons then that do nothing", async () => {
      const { page } = await open(1440, false);
      expect(await page.locator("tbody tr").count()).toBe(5);
      expect(await page.locator("thead button").count()).toBe(0);
    });

    it.each([
      ["light", 1440],
      ["dark", 1440],
      ["light", 360],
    ] as const)("has no fault that axe finds, %s at %i px", async (scheme, width) => {
      const { page } = await open(width, true, scheme === "dark");
      await page.evaluate(await readFile(axe, "utf8"));
      const { violations } = (await page.evaluate("axe.run()")) as {
        violations: { id: string; nodes: { html: string }[] }[];
      };
      expect(
        violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" | ")}`),
      ).toEqual([]);
    });
  },
);

function browserPath(): string | null {
  try {
    return execFileSync("which", ["chromium"], { encoding: "utf8" }).trim();
  } catch {
    return null;
  }
}

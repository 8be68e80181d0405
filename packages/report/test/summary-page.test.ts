import { createHash } from "node:crypto";
import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { summaryPage } from "../src/index.js";
import { summary } from "./invented-summary.js";

const textOf = (page: string) =>
  page
    .slice(page.indexOf("<body>"), page.indexOf("<script>"))
    .replace(/<svg[\s\S]*?<\/svg>/g, " ")
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ");

describe("summaryPage", async () => {
  const page = await summaryPage(summary, { "firing/tile-1": { page: "firing/tile-1/report.html" } });

  it("says first how many of the takes were measured, and what became of the others", () => {
    expect(textOf(page)).toMatch(
      /^ 3 of 5 takes measured Of the others 1 gave a lower bound only, 1 failed\./,
    );
  });

  it("has every take with its speed rounded, a bound rounded down, and why there is none", () => {
    const text = textOf(page);
    expect(text).toContain("firing/tile-1 1500.0 9.0 measured");
    expect(text).toContain("spark at least 912 bounded");
    expect(text).toContain("cut failed tile_0005.png is damaged: export it again.");
    expect(page).toContain('<a href="firing/tile-1/report.html">firing/tile-1</a>');
  });

  it("says warnings in words, the same words once with the takes that they are of, and once what a remark says", async () => {
    const warned = (take: string, message: string) => ({
      ...summary.takes[2],
      take,
      warnings: [{ code: "front-leaves", message }],
    });
    const takes = [
      ...summary.takes,
      warned("other/a", "the front leaves the path in frame 31"),
      warned("other/b", "the front leaves the path in frame 7"),
    ];
    const text = textOf(await summaryPage({ ...summary, takes }));
    expect(text).toContain("measured Disagrees with the others of its folder. Warning: front-leaves .");
    expect(text).toContain("front-leaves The front leaves the path in frame 31. firing/tile-2, other/a.");
    expect(text).toContain("front-leaves The front leaves the path in frame 7. other/b.");
    expect(text).toContain(
      "bounded A reading only, without the uncertainty of the rate, which was not stated. ",
    );
    expect(text).not.toContain("reading-only");
  });

  it("leads from each warning of a take to its words", () => {
    const { document } = parseHTML(page);
    const links = [...document.querySelectorAll('tbody a[href^="#"]')].map(
      (link) => link.getAttribute("href")!,
    );
    expect(links).toEqual(["#warning-front-leaves"]);
    expect(document.querySelectorAll(links[0])).toHaveLength(1);
  });

  const together = (chance: number) =>
    summaryPage({ ...summary, repeats: [{ ...summary.repeats[0], disagreeing: [], chance }] });

  it("says the mean with its interval, its parts, who disagrees, and how unlikely it is", async () => {
    const text = textOf(page);
    expect(text).toContain("Mean of 3 takes: 1570 ± 280 m/s");
    expect(text).toContain("firing/tile-2 disagrees with the others");
    expect(textOf(await together(0))).toContain("so much in under 0.1 % of cases");
    expect(textOf(await together(0.012))).toContain("so much in 1.2 % of cases");
    expect(text).toContain("scale 7.8 m/s: standard uncertainties that more takes do not shrink");
  });

  it("says what was measured where a folder has takes that measured something else, and are in no mean with these", async () => {
    expect(textOf(page)).not.toContain("measured something else");
    const line = { ...summary.takes[1], take: "firing/tile-4" };
    const text = textOf(await summaryPage({ ...summary, takes: [...summary.takes, line] }));
    expect(text).toContain("here: mid-level of the change. 1 more of the folder measured something else.");
  });

  it("says of two takes that differ that they disagree with each other: neither is told to be off", async () => {
    const [repeats] = summary.repeats;
    const takes = repeats.takes.slice(0, 2);
    const two = { ...repeats, takes, disagreeing: takes };
    const text = textOf(await summaryPage({ ...summary, repeats: [two] }));
    expect(text).toContain(`${takes.join(", ")} disagree with each other: look at them`);
  });

  it("lets only its own script run, and loads nothing", () => {
    const { document } = parseHTML(page);
    const scripts = [...document.querySelectorAll("script")].map(({ textContent }) => textContent ?? "");
    expect(scripts).toHaveLength(1);
    const digest = createHash("sha256").update(scripts[0]).digest("base64");
    const policy = document.querySelector("meta[http-equiv]")?.getAttribute("content");
    expect(policy).toContain(
      `default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'sha256-${digest}'`,
    );
    expect(page).not.toMatch(/(?:src|href)="(?!data:|#warning-|firing\/tile-1\/report\.html)/);
  });

  it("takes a hostile name as text", async () => {
    const name = `"><script>alert(1)</script>`;
    const takes = summary.takes.map((take, k) => (k === 0 ? { ...take, take: name } : take));
    const { document } = parseHTML(await summaryPage({ ...summary, takes }));
    expect(document.querySelectorAll("script")).toHaveLength(1);
    expect(document.querySelector("tbody th")?.textContent).toBe(name);
  });

  it("gives the same text for the same summary", async () => {
    expect(await summaryPage(summary)).toBe(await summaryPage(summary));
  });
});

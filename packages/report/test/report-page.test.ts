import { parseHTML } from "linkedom";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { drawStillPictures, drawStreakSamples, type ReportedResult, reportPage } from "../src/index.js";
import { withoutMetadata } from "../src/page/picture-data.js";
import { sentence, typeset } from "../src/page/typeset.js";
import { inventStreak } from "./invented.js";
import { bounded, measured, notFound } from "./invented-result.js";

/** What a reader sees: markup left out, spaces joined. */
function textOf(page: string): string {
  const body = page.slice(page.indexOf("<body>")).replace(/<svg[\s\S]*?<\/svg>/g, " ");
  return body.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
}

const hostile = `"><script>alert(1)</script><img src=x onerror=alert(2)>'`;

describe("reportPage", () => {
  it("says the speed first, with its interval in a sentence", async () => {
    const text = textOf(await reportPage(measured));
    expect(text).toMatch(/^ invented tile The front ran at 40\.1 ± 1\.0 m\/s/);
    expect(text).toContain("With 95 % confidence its speed was 39.1 to 41.1 m/s.");
  });

  it("keeps the SI value beside what a person reads", async () => {
    const page = await reportPage(measured);
    expect(page).toContain('<data value="40.1">');
    expect(page).toMatch(/<data value="0\.0002">200 µm a pixel<\/data>/);
    expect(page).toMatch(/<data value="0\.000002">2 µs<\/data>/);
  });

  it("tells inputs to their uncertainty, not rounded to others: a rate by a lamp, an odd scale, distance and air with theirs", async () => {
    const take = {
      ...measured.take,
      rateHz: 100011.7,
      rateUncertaintyHz: 4.7,
      metresPerPixel: 3.0437e-4,
      metresPerPixelUncertainty: 3e-7,
      distanceMetres: 3.2154,
      distanceUncertaintyMetres: 0.01,
      airTemperatureKelvin: 293.65,
      airTemperatureUncertaintyKelvin: 0.5,
      startTimeSeconds: -1.25e-5,
    };
    const text = textOf(await reportPage({ ...measured, take }));
    expect(text).toContain("recording rate 100,011.7 frames/s ± 4.7 frames/s");
    expect(text).toContain("scale 304.37 µm a pixel ± 0.099 % (k = 1)");
    expect(text).toContain("camera to the centre of the sphere 3.215 m ± 0.010 m");
    expect(text).toContain("temperature of the air 20.50 °C ± 0.50 °C (k = 1)");
    expect(text).toContain("start of the motion −12.5 µs");
  });

  it("tells inputs of no stated uncertainty as they were given", async () => {
    const take = {
      ...measured.take,
      rateHz: 24999.75,
      rateUncertaintyHz: null,
      metresPerPixel: 1.93456e-6,
      metresPerPixelUncertainty: 0,
      airTemperatureKelvin: 293.15,
      airTemperatureUncertaintyKelvin: null,
    };
    const text = textOf(await reportPage({ ...measured, take }));
    expect(text).toContain("24,999.75 frames/s (its uncertainty was not stated)");
    expect(text).toContain("1.93456 µm a pixel (stated as exact)");
    expect(text).toContain("20 °C (its uncertainty was not stated)");
  });

  it("calls an interval without the uncertainty of an input a reading only", async () => {
    const speed = { ...measured.speed!, complete: false, missing: ["scale", "rate"] };
    const text = textOf(await reportPage({ ...measured, speed }));
    expect(text).toContain("reading only");
    expect(text).toContain("without the uncertainty of the scale and rate");
  });

  it("says a lower bound as one, rounded down, and why there is no more", async () => {
    const text = textOf(await reportPage(bounded));
    expect(text).toContain("The front ran at least 1230 m/s");
    expect(text).toContain("It crossed 95 px of the path between frames 1 and 2");
    expect(text).toContain("reading only");
    expect(text).not.toContain("Where the uncertainty comes from");
  });

  it("says that no speed was measured and why, once", async () => {
    const page = await reportPage(notFound);
    expect(textOf(page)).toContain("No speed was measured No position changed by more than the noise.");
    expect(page.match(/no position changed/gi)).toHaveLength(1);
  });

  it("gives every crack of a network its line in the answer", async () => {
    const branch = { lengthPixels: 50, firstFrame: 1, lastFrame: 9, reason: null, warnings: [] };
    const branches = [
      { ...branch, parent: null, speed: 400, expandedUncertainty: 4 },
      { ...branch, parent: 1, speed: null, expandedUncertainty: null, reason: "no-change" },
    ];
    const found = { reason: "several-fronts", message: "2 cracks are seen" };
    const text = textOf(await reportPage({ ...notFound, notFound: found, warnings: [], branches }));
    expect(text).toContain("No one speed: 2 cracks ran, each at its own");
    expect(text).toContain("400.0 m/s ± 4.0 m/s (95 %), frames 1 to 9, 50 px");
    expect(text).toContain("not measured (no-change), 50 px, from 1");
  });

  it("has the budget as bars and in a table, what is not in it, and what was stated by hand", async () => {
    const page = await reportPage(measured);
    expect(page).toContain("scale: 0.40 m/s, 64 % of the variance");
    const text = textOf(page);
    expect(text).toContain("rate exact B infinite");
    expect(text).toContain("lens The distortion is not known.");
    expect(text).toMatch(/stated by hand scale, recording rate, width found by the program path, polarity/);
    expect(text).toContain("One frame was rejected (crosses): 3.");
  });

  it("says its limits: no accredited calibration, how far it is traceable, what may be seen", async () => {
    const text = textOf(await reportPage(measured));
    expect(text).toContain("This is not an accredited calibration. It is traceable only as far as");
    expect(text).toContain("People and premises may be visible in the pictures");
  });

  it("has the warnings in the words that they come with", async () => {
    const warnings = [{ code: "few-frames", message: "the front is in 5 frames +- 1: film faster" }];
    const text = textOf(await reportPage({ ...measured, warnings }));
    expect(text).toContain("One warning belongs to this answer");
    expect(text).toContain("few-frames The front is in 5 frames ± 1: film faster.");
  });

  it("shows text from outside as text, wherever it comes from", async () => {
    const result: ReportedResult = {
      ...measured,
      take: {
        ...measured.take,
        name: hostile,
        framesHash: hostile,
        raw: hostile,
        transfer: hostile,
        stated: [hostile],
      },
      program: { name: hostile, version: hostile },
      front: { ...measured.front!, measurand: hostile, polarity: hostile },
      model: {
        name: hostile,
        parameters: { [hostile]: { value: 1, standardUncertainty: 1, unit: hostile } },
      },
      speed: {
        ...measured.speed!,
        budget: [{ source: hostile, type: "A", standardUncertainty: 1, degreesOfFreedom: null }],
        notEvaluated: [{ source: hostile, reason: hostile }],
      },
      warnings: [{ code: hostile, message: hostile }],
    };
    for (const one of [
      result,
      { ...notFound, take: result.take, notFound: { reason: "x", message: hostile } },
    ]) {
      const page = await reportPage(one, { files: [hostile], surroundings: [hostile] });
      const { document } = parseHTML(page);
      expect(document.querySelectorAll("script, img").length).toBe(0);
      const attributes = [...document.querySelectorAll("*")].flatMap((element) =>
        element.getAttributeNames(),
      );
      expect(attributes.filter((name) => name.startsWith("on"))).toEqual([]);
      expect(document.querySelector(".take")?.textContent).toBe(hostile);
      expect(page).toContain("&lt;script&gt;");
    }
  });

  it("asks nothing of the network and runs nothing", async () => {
    const page = await reportPage(measured, { pictures: await pictures(), files: ["result.json"] });
    const addresses = Array.from(page.matchAll(/(?:href|src)="([^"]*)"/g), ([, address]) => address);
    for (const address of addresses) expect(address).toMatch(/^(#|data:image\/|result\.json$)/);
    expect(page).not.toMatch(/<script|@import|url\(|<link/);
    expect(page).toContain("default-src &#39;none&#39;");
  });

  it("gives the same text for the same result, also the second time", async () => {
    const input = { pictures: await pictures() };
    expect(await reportPage(measured, input)).toBe(await reportPage(measured, input));
  });

  it("has words in place of every picture, and says which are wanting", async () => {
    const page = await reportPage(measured, { pictures: await pictures() });
    for (const [svg] of page.matchAll(/<svg(?![^>]*aria-hidden)[^>]*>/g)) expect(svg).toMatch(/role="img"/);
    expect(page).toContain("Frame 2, in the middle: the front is drawn");
    expect(textOf(await reportPage(measured))).toContain(
      "The pictures of frames 0, 2, 4 are not beside the result",
    );
  });

  it("is made of a result that lacks what a page shows beside the answer", async () => {
    const { track: _, streak: __, event: ___, ...older } = measured;
    const { stated: ____, ...take } = older.take;
    const text = textOf(await reportPage({ ...older, take }));
    expect(text).toContain("The front ran at 40.1 ± 1.0 m/s");
    expect(text).toContain("stated by hand not recorded");
    expect(text).not.toContain("The event");
  });

  it("names the standard of a calibration, and what it assumes", async () => {
    const calibration = {
      method: "corners",
      planeMap: true,
      lens: false,
      pathMetres: 0.02,
      leastMetresPerPixel: 1.9e-4,
      greatestMetresPerPixel: 2.1e-4,
      singleScaleError: -0.031,
      assumed: ["nothing moved", "the lens does not bend the picture"],
      medium: "water",
      stills: ["grid.png"],
    };
    const text = textOf(await reportPage({ ...measured, take: { ...measured.take, calibration } }));
    expect(text).toContain("By a calibration: corners, in water; the length standard is seen in grid.png.");
    expect(text).toContain(
      "0.19 mm to 0.21 mm; the single scale of the calibration would be wrong by -3.1 %",
    );
    expect(text).toContain("Assuming that nothing moved; that the lens does not bend the picture.");
    expect(text).toContain("length standard (that of the calibration by corners, seen in grid.png)");
  });

  it("refuses a picture that is none", async () => {
    const page = reportPage(measured, { pictures: { "frame-before.png": new Uint8Array([1, 2, 3]) } });
    await expect(page).rejects.toThrow("must be a PNG file");
  });
});

describe("pictures of a page", () => {
  it("go in without their metadata, and show the same", async () => {
    const noted = await sharp({ create: { width: 3, height: 2, channels: 3, background: "#456789" } })
      .withExif({ IFD0: { Copyright: "invented laboratory" } })
      .png()
      .toBuffer();
    expect(noted.includes("invented laboratory")).toBe(true);
    const bare = withoutMetadata(noted);
    expect(Buffer.from(bare).includes("invented laboratory")).toBe(false);
    expect(await sharp(bare).raw().toBuffer()).toEqual(await sharp(noted).raw().toBuffer());
  });

  it("are refused where they are cut off", async () => {
    const [png] = await drawStillPictures([still(1)]);
    expect(() => withoutMetadata(png.subarray(0, png.length - 20))).toThrow("got a part of one");
  });

  it("are in the same greys, from the darkest to the brightest of all", async () => {
    const [dark, bright] = await drawStillPictures([still(0), still(10)]);
    const greys = async (png: Uint8Array) => [...(await sharp(png).toColourspace("b-w").raw().toBuffer())];
    expect(await greys(dark)).toEqual([0, 0, 0, 0, 0, 0]);
    expect(await greys(bright)).toEqual([255, 255, 255, 255, 255, 255]);
  });

  it("are averaged down by a whole factor where they are large", async () => {
    const data = Float64Array.from({ length: 2600 }, (_, x) => x % 3);
    const [png] = await drawStillPictures([{ data, shape: [1, 2600] }]);
    expect((await sharp(png).metadata()).width).toBe(867);
  });
});

describe("typeset", () => {
  it.each([
    ["5 m/s +- 1 m/s", "5 m/s ± 1 m/s"],
    ["--scale 0.2mm+-0.5%, or +-0 if exact", "--scale 0.2mm+-0.5%, or +-0 if exact"],
    ["290 us, 2 um", "290 µs, 2 µm"],
    ["256 x 64 px", "256 × 64 px"],
    ["use us", "use us"],
  ])("%s becomes %s", (text, set) => {
    expect(typeset(text)).toBe(set);
  });

  it("makes a sentence of a line", () => {
    expect(sentence("no front was found")).toBe("No front was found.");
    expect(sentence("done?")).toBe("Done?");
  });
});

function still(value: number) {
  return { data: new Float64Array(6).fill(value), shape: [2, 3] as const };
}

async function pictures() {
  const [before, middle, after] = await drawStillPictures([still(0), still(5), still(10)]);
  const samples = await drawStreakSamples(inventStreak([0, 1, 2, 3, 4], 8, { brightUpTo: (frame) => frame }));
  return {
    "frame-before.png": before,
    "frame-middle.png": middle,
    "frame-after.png": after,
    "streak-samples.png": samples,
  };
}

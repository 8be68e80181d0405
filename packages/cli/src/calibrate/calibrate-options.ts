import type { CalibrateOptions, Standard } from "@frontpace/take";
import { parseLeast, wrong } from "../arguments/option-parsers.js";
import { parsePair, parsePoints } from "../arguments/parse-points.js";
import { parseQuantity } from "../arguments/parse-quantity.js";
import { lengthRule } from "../arguments/units.js";
import { CliError } from "../terminal/cli-error.js";
import { depthOf } from "./depth-options.js";

/** Options of `calibrate` that can change the scale, as text, by their names on the command line. */
export interface CalibrateTexts {
  readonly length?: readonly string[];
  readonly between?: readonly string[];
  readonly point?: readonly string[];
  readonly pointsUncertainty?: string;
  readonly corners?: string;
  readonly square?: string;
  readonly dots?: string;
  readonly pitch?: string;
  readonly pointing?: string;
  readonly lens?: boolean;
  readonly sensor?: string;
  readonly sensorOffset?: string;
  readonly binning?: string;
  readonly distance?: string;
  readonly depthOffset?: string;
  readonly window?: string;
  readonly medium?: string;
}

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function calibrateOptions(texts: CalibrateTexts): CalibrateOptions {
  const { pointing, lens, sensor, sensorOffset, binning } = texts;
  const { medium, depth } = depthOf(texts);
  refuseUnused(texts);
  return {
    standard: standardOf(texts),
    ...(pointing !== undefined && { pointingPixels: parseLeast("--pointing", pointing, 0, "px", "0.5") }),
    ...(lens && { lens }),
    ...(sensor !== undefined && { sensor: sizeOf("--sensor", sensor, "1280x800") }),
    ...(sensorOffset !== undefined && { sensorOffset: parsePair("--sensor-offset", sensorOffset, "0,364") }),
    ...(binning !== undefined && { binning: parseLeast("--binning", binning, 1, "sensor pixels", "2") }),
    ...(medium !== undefined && { medium }),
    ...(depth && { depth }),
  };
}

/** Options that would change nothing as the others stand. */
function refuseUnused({
  point,
  length,
  pointsUncertainty,
  pointing,
  distance,
  ...texts
}: CalibrateTexts): void {
  const isDeep = [texts.depthOffset, texts.window].some((text) => text !== undefined);
  const unused = [
    {
      name: "--points-uncertainty",
      isUnused: pointsUncertainty !== undefined && point === undefined,
      why: "it belongs to --point; with lengths and grids state it beside the length (10mm+-0.005mm)",
    },
    {
      name: "--pointing",
      isUnused: pointing !== undefined && point === undefined && length === undefined,
      why: "the points of a grid are found, and how well is told from the picture; it belongs to points marked by hand",
    },
    {
      name: "--distance",
      isUnused: distance !== undefined && !isDeep && !texts.medium?.includes(","),
      why: "it belongs to --depth-offset, --window or a depth in --medium (water,80mm); give one of them, or leave it out",
    },
  ].find(({ isUnused }) => isUnused);
  if (unused) throw new CliError("invalid-option", `${unused.name} would change nothing: ${unused.why}`);
}

/** The one standard that is described. */
function standardOf(texts: CalibrateTexts): Standard {
  const { length, between, point, pointsUncertainty, corners, square, dots, pitch } = texts;
  refuseMixed(texts);
  const groups = [
    {
      given: length ?? between,
      names: "--length with --between",
      standard: () => lengthsOf(length, between),
    },
    { given: point, names: "--point", standard: () => pointsOf(point ?? [], pointsUncertainty) },
    {
      given: corners ?? square,
      names: "--corners with --square",
      standard: () => gridOf("corners", corners, "--square", square),
    },
    {
      given: dots ?? pitch,
      names: "--dots with --pitch",
      standard: () => gridOf("dots", dots, "--pitch", pitch),
    },
  ];
  const named = groups.filter(({ given }) => given !== undefined);
  if (named.length === 1) return named[0].standard();
  const all = groups.map(({ names }) => names).join(", ");
  throw new CliError(
    "invalid-option",
    named.length === 0
      ? `what of known size the stills show is not said: give one of ${all}`
      : `${named.map(({ names }) => names).join(" and ")} are both given: a calibration goes by one of ${all}`,
  );
}

/** A count of one grid with the step of another. */
function refuseMixed({ corners, square, dots, pitch }: CalibrateTexts): void {
  if (corners !== undefined && pitch !== undefined && square === undefined && dots === undefined)
    throw new CliError(
      "invalid-option",
      "--corners goes with --square, the side of a square, not with --pitch",
    );
  if (dots !== undefined && square !== undefined && pitch === undefined && corners === undefined)
    throw new CliError(
      "invalid-option",
      "--dots goes with --pitch, the distance of neighbouring dots, not with --square",
    );
}

function lengthsOf(lengths: readonly string[] = [], between: readonly string[] = []): Standard {
  if (lengths.length !== between.length)
    throw new CliError(
      "invalid-option",
      `--length and --between go together, one pair for each length: got ${lengths.length} and ${between.length}`,
    );
  return {
    kind: "lengths",
    lengths: lengths.map((text, k) => ({
      length: parseQuantity(text, lengthRule("--length", "a known length", "300mm+-0.1mm")),
      between: parsePoints("--between", between[k]),
    })),
  };
}

function pointsOf(points: readonly string[], uncertainty: string | undefined): Standard {
  const example = "12,40:0mm,150mm";
  const relative = uncertainty === undefined ? undefined : parsePercent("--points-uncertainty", uncertainty);
  return {
    kind: "points",
    points: points.map((text) => {
      const [pixel, plane, ...rest] = text.split(":");
      const lengths = plane?.split(",") ?? [];
      if (rest.length > 0 || lengths.length !== 2)
        throw wrong("--point", "a point in the picture and its place in the plane, x,y:X,Y", example, text);
      return {
        pixel: parsePair("--point", pixel, example),
        plane: [signedLength("--point", lengths[0], example), signedLength("--point", lengths[1], example)],
      };
    }),
    ...(relative !== undefined && { relativeStandardUncertainty: relative }),
  };
}

function gridOf(
  kind: "corners" | "dots",
  size: string | undefined,
  option: string,
  step: string | undefined,
): Standard {
  const named = `--${kind}`;
  if (size === undefined || step === undefined)
    throw new CliError(
      "invalid-option",
      `${named} and ${option} go together: ${size === undefined ? named : option} is missing`,
    );
  const { columns, rows } = sizeOf(named, size, kind === "corners" ? "9x6" : "7x5");
  const { value, standardUncertainty } = parseQuantity(
    step,
    lengthRule(option, "the distance of neighbouring points of the grid", "10mm+-0.005mm"),
  );
  return {
    kind: "grid",
    pattern: { kind, along: columns, across: rows, pitchMetres: value },
    ...(standardUncertainty !== undefined && { relativeStandardUncertainty: standardUncertainty / value }),
  };
}

function signedLength(option: string, text: string, example: string): number {
  const bare = text.trim();
  if (/^[+-]?0+(\.0*)?\s*(m|cm|mm|um|µm|μm|nm)$/.test(bare)) return 0;
  const sign = bare.startsWith("-") ? -1 : 1;
  const rule = { ...lengthRule(option, "places in the plane as lengths", example), withUncertainty: false };
  return sign * parseQuantity(sign < 0 ? bare.slice(1) : bare, rule).value;
}

function sizeOf(option: string, text: string, example: string): { columns: number; rows: number } {
  const match = /^(\d{1,5})x(\d{1,5})$/.exec(text.trim());
  if (!match || Number(match[1]) < 1 || Number(match[2]) < 1)
    throw wrong(option, "two whole numbers AxB", example, text);
  return { columns: Number(match[1]), rows: Number(match[2]) };
}

function parsePercent(option: string, text: string): number {
  const match = /^(\d+\.?\d*|\.\d+)\s*%$/.exec(text.trim());
  if (!match) throw wrong(option, "a part in percent", "0.1%", text);
  return Number(match[1]) / 100;
}

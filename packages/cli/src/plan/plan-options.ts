import type { PlanRequest } from "@frontpace/planner";
import { parseQuantity, type QuantityRule } from "../arguments/parse-quantity.js";
import { LENGTHS, TIMES } from "../arguments/units.js";
import { CliError } from "../terminal/cli-error.js";

/** Options of `plan` that say what is expected and wanted, as text, by their names on the command line. */
export interface PlanTexts {
  readonly speed?: string;
  readonly material?: string;
  readonly length?: string;
  readonly along?: string;
  readonly scale?: string;
  readonly framesAcross?: string;
  readonly blur?: string;
  readonly exposure?: string;
  readonly exposureFraction?: string;
  readonly memory?: string;
  readonly reaction?: string;
  readonly playback?: string;
  readonly goodExposure?: string;
  readonly light?: string;
  readonly stops?: string;
  readonly stepToNoise?: string;
  readonly noise?: string;
  readonly edgeBlur?: string;
  readonly width?: string;
  readonly uncertainty?: string;
  readonly mains?: string;
}

type RequestKey = keyof PlanRequest | "material";

/** Keys of a request that each option sets. */
export const planOptionKeys: Readonly<Record<keyof PlanTexts, readonly RequestKey[]>> = {
  speed: ["speedMetresPerSecond"],
  material: ["material"],
  length: ["lengthMetres"],
  along: ["along"],
  scale: ["metresPerPixel"],
  framesAcross: ["framesAcross"],
  blur: ["blurPixels"],
  exposure: ["exposureSeconds"],
  exposureFraction: ["exposureFraction"],
  memory: ["memoryBytes", "memorySeconds"],
  reaction: ["reactionSeconds"],
  playback: ["playbackHz"],
  goodExposure: ["goodExposureSeconds"],
  light: ["relativeLight"],
  stops: ["stopsLost"],
  stepToNoise: ["stepToNoise"],
  noise: ["noise"],
  edgeBlur: ["edgeBlurPixels"],
  width: ["widthPixels"],
  uncertainty: ["relativeUncertainty"],
  mains: ["mainsHz"],
};

const SPEEDS = { "m/s": 0, "km/s": 3, "cm/s": -2, "mm/s": -3 };
const PIXELS = { px: 0, "": 0 };

const rule = (
  option: string,
  wanted: string,
  example: string,
  units: QuantityRule["units"],
): QuantityRule => ({ option, wanted, example, units, withUncertainty: false });

const speedRule = rule(
  "--speed",
  "the expected speed or a range low..high, numbers > 0 with their unit (m/s, km/s, cm/s, mm/s)",
  "1200..1600m/s",
  SPEEDS,
);

/** Options that set one number each, and how it is written. */
const QUANTITIES = {
  length: [
    "lengthMetres",
    rule("--length", "a length > 0 with its unit (m, cm, mm, um, nm)", "300mm", LENGTHS),
  ],
  scale: [
    "metresPerPixel",
    rule("--scale", "the length of one pixel, > 0, with its unit (m, cm, mm, um, nm)", "0.2mm", LENGTHS),
  ],
  framesAcross: ["framesAcross", rule("--frames-across", "a number of frames, >= 3", "20", { "": 0 })],
  blur: ["blurPixels", rule("--blur", "a number > 0, px", "2px", PIXELS)],
  exposure: ["exposureSeconds", rule("--exposure", "a time > 0 with its unit (s, ms, us, ns)", "1us", TIMES)],
  exposureFraction: [
    "exposureFraction",
    rule("--exposure-fraction", "a part of the frame interval, > 0 and at most 1 (or 100%)", "50%", {
      "": 0,
      "%": -2,
    }),
  ],
  reaction: [
    "reactionSeconds",
    rule("--reaction", "a time > 0 with its unit (s, ms, us, ns)", "0.5s", TIMES),
  ],
  playback: [
    "playbackHz",
    rule("--playback", "frames shown per second, a number > 0", "25", { "": 0, Hz: 0 }),
  ],
  goodExposure: [
    "goodExposureSeconds",
    rule("--good-exposure", "a time > 0 with its unit (s, ms, us, ns)", "4us", TIMES),
  ],
  light: [
    "relativeLight",
    rule("--light", "how many times the light of the good exposure there is, a number > 0", "4x", {
      "": 0,
      x: 0,
    }),
  ],
  stops: ["stopsLost", rule("--stops", "a number of stops > 0", "2", { "": 0 })],
  stepToNoise: ["stepToNoise", rule("--step-to-noise", "a number > 0", "20", { "": 0 })],
  edgeBlur: ["edgeBlurPixels", rule("--edge-blur", "a number > 0, px", "1.2px", PIXELS)],
  width: ["widthPixels", rule("--width", "a number >= 1, px", "24", PIXELS)],
  uncertainty: [
    "relativeUncertainty",
    rule("--uncertainty", "a part of the speed > 0, or in percent", "0.5%", { "": 0, "%": -2 }),
  ],
} as const satisfies Partial<Record<keyof PlanTexts, readonly [keyof PlanRequest, QuantityRule]>>;

const CHOICES = {
  along: ["columns", "rows"],
  noise: ["shot", "read"],
} as const;

/** A request without the speed where a material is to give it. */
export type PartialRequest = Omit<PlanRequest, "speedMetresPerSecond"> &
  Partial<Pick<PlanRequest, "speedMetresPerSecond">>;

/** Reads the options' texts.
 *  @throws CliError `invalid-option`, `option-missing` */
export function planOptions(texts: PlanTexts): PartialRequest {
  if ((texts.speed === undefined) === (texts.material === undefined))
    throw new CliError(
      texts.speed === undefined ? "option-missing" : "invalid-option",
      "the expected speed comes from --speed (for example --speed 1200..1600m/s) or from --material: give one of them",
    );
  if (texts.length === undefined)
    throw new CliError(
      "option-missing",
      "--length is missing: give the length of interest, for example --length 300mm",
    );
  const request: Record<string, unknown> = {};
  if (texts.speed !== undefined) request.speedMetresPerSecond = parseSpeed(texts.speed);
  for (const [option, [key, quantity]] of Object.entries(QUANTITIES)) {
    const text = texts[option as keyof typeof QUANTITIES];
    if (text !== undefined) request[key] = parseQuantity(text, quantity).value;
  }
  for (const [option, known] of Object.entries(CHOICES)) {
    const text = texts[option as keyof typeof CHOICES];
    if (text !== undefined) request[option] = choice(`--${option}`, known, text);
  }
  if (texts.mains !== undefined) request.mainsHz = Number(choice("--mains", ["50", "60"], texts.mains));
  return { ...request, ...(texts.memory !== undefined && parseMemory(texts.memory)) } as PartialRequest;
}

/** `1500m/s`, `1200..1600m/s` or `1.2km/s..1600m/s`: where the lower end has no unit, it is that of the upper one. */
function parseSpeed(text: string): PlanRequest["speedMetresPerSecond"] {
  const ends = text.split("..");
  if (ends.length > 2) throw new CliError("invalid-option", `${described(speedRule)}; got "${text}"`);
  const high = parseQuantity(ends[ends.length - 1], speedRule).value;
  if (ends.length === 1) return { low: high, high };
  const unit = /[^\d.\s]*$/.exec(ends[1])?.[0] ?? "";
  const low = parseQuantity(/\d$/.test(ends[0].trim()) ? ends[0].trim() + unit : ends[0], speedRule).value;
  if (low > high)
    throw new CliError(
      "invalid-option",
      `--speed must run from the slower to the faster speed, got "${text}", which is reversed: turn it round`,
    );
  return { low, high };
}

function parseMemory(text: string): Pick<PlanRequest, "memoryBytes" | "memorySeconds"> {
  const wanted =
    "what the memory holds, > 0, in bytes (B, kB, MB, GB, TB, powers of ten) or in time (s, ms, us, ns)";
  const bytes = { B: 0, kB: 3, MB: 6, GB: 9, TB: 12 };
  const either = rule("--memory", wanted, "16GB", { ...bytes, ...TIMES });
  const { value } = parseQuantity(text, either);
  return /B\s*$/.test(text) ? { memoryBytes: value } : { memorySeconds: value };
}

function choice<T extends string>(option: string, known: readonly T[], text: string): T {
  const found = known.find((one) => one === text);
  if (found !== undefined) return found;
  throw new CliError(
    "invalid-option",
    `${option} must be ${known.join(" or ")}, for example ${option} ${known[0]}; got "${text}"`,
  );
}

/** Heights `700,500`, px. */
export function parseRows(text: string): number[] {
  const rows = text.split(",").map((part) => (/^\s*\d+\s*$/.test(part) ? Number(part) : Number.NaN));
  if (rows.every((height) => Number.isSafeInteger(height) && height >= 1)) return rows;
  throw new CliError(
    "invalid-option",
    `--rows must be heights in px with commas between them, for example --rows 700,500; got "${text}"`,
  );
}

function described({ option, wanted, example }: QuantityRule): string {
  return `${option} must be ${wanted}, for example ${option} ${example}`;
}

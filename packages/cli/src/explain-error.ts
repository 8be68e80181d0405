import { checkOptionKeys } from "./check/check-options.js";
import { findOptionKeys } from "./find/find-options.js";
import { optionKeys } from "./measure/measure-options.js";
import { planOptionKeys } from "./plan/plan-options.js";

/** What is printed for an error, and whether the user can mend it. */
export interface Explanation {
  readonly code: string;
  readonly message: string;
  readonly fault: boolean;
}

/** Options of all commands with the keys that they set; one name may stand for different keys in two commands. */
const keysOfOptions: readonly (readonly [string, readonly string[]])[] = [
  findOptionKeys,
  checkOptionKeys,
  planOptionKeys,
  optionKeys,
].flatMap((keys) => Object.entries(keys));

const inputErrors = new Set(["CliError", "TakeError", "FrameLoadError", "PlannerError", "CalibrationError"]);

const missing: Readonly<Record<string, string>> = {
  "rate-missing":
    'the recording rate is not given: add --rate, frames per second (for example --rate 800k, with its standard uncertainty --rate 800k+-0.01%), or "rateHz" to take.json',
  "scale-missing":
    'the scale is not given: add --scale, the length of one pixel (for example --scale 0.2mm, with its standard uncertainty --scale 0.2mm+-0.5%), or --calibration, the scale.json of frontpace calibrate, or "metresPerPixel" or "calibration" to take.json',
  "air-temperature-missing":
    'the model decaying-shock tends to the speed of sound, and the temperature of the air is not known: add --air-temperature (for example --air-temperature 20C+-0.5C), or "airTemperatureKelvin" to take.json',
  "reference-missing":
    "light is counted from a good exposure, and none is given: add --good-exposure, the exposure at which step to noise and light held (for example --good-exposure 4us)",
  "noise-unknown":
    "--uncertainty is wanted, and the noise is not known: add --step-to-noise with --good-exposure, or --earlier, the result.json of an earlier take",
  "memory-missing":
    "--reaction places the trigger in the memory, and its size is not known: add --memory (for example --memory 16GB or 2s)",
};

/** How messages about one damaged still of a take end. */
const ONE_OF_MANY = /export it again, or take it out$/;

/** Turns whatever was thrown into a code and a message in the words of the command line.
 *  @param args  the options that were given, by name */
export function explainError(error: unknown, args: Readonly<Record<string, unknown>>): Explanation {
  const { name, code, message } =
    error instanceof Error ? (error as Error & { code?: unknown }) : fallback(error);
  if (typeof code === "string" && code.startsWith("commander.")) {
    return {
      code: code.slice("commander.".length).replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`),
      message: `${message
        .replace(/^error: /, "")
        .replace(/\s*\n\s*/g, " ")
        .replace(/\.$/, "")}: --help behind the command shows what it takes`,
      fault: false,
    };
  }
  if (typeof code !== "string" || !inputErrors.has(name) || code === "not-finite") {
    return {
      code: "fault",
      message: `a fault of the program, not of your input: ${message} (set FRONTPACE_DEBUG=1 to see where)`,
      fault: true,
    };
  }
  if (code in missing) return { code, message: missing[code], fault: false };
  const { key, file } = (error as { fields?: { key?: string; file?: string } }).fields ?? {};
  if (ONE_OF_MANY.test(message) && args.skipBad !== true)
    return {
      code,
      message: `${message}; --skip-bad leaves damaged stills out as gaps in time`,
      fault: false,
    };
  const option = keysOfOptions.find(
    ([flag, keys]) => key !== undefined && keys.includes(key) && args[flag] !== undefined,
  );
  return {
    code,
    message: option && file === undefined ? underFlag(flagOf(option[0]), message) : message,
    fault: false,
  };
}

function flagOf(option: string): string {
  return `--${option.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}`;
}

/** A message that begins with the name of the option needs it only once. */
function underFlag(flag: string, message: string): string {
  return message.startsWith(`${flag.slice(2)} `) ? `--${message}` : `${flag}: ${message}`;
}

function fallback(error: unknown) {
  return { name: "", code: undefined, message: String(error) };
}

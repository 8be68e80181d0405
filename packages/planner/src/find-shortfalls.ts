import type { ExpectedMode } from "./expect-mode.js";
import { fourDigits, noLess, partText, timeText } from "./four-digits.js";
import type { Shortfall } from "./plan-types.js";
import type { PlanRequest } from "./request-types.js";

/** Differences beneath this are of rounding. */
const ROUNDING = 1e-9;

/** The limits that a mode misses, each with what it would have to be. Empty where the mode meets the wish. */
export function findShortfalls(expected: ExpectedMode, request: PlanRequest): Shortfall[] {
  const { figures: mode, details, minExposureSeconds, side } = expected;
  const { framesAcross = 3, blurPixels, stopsLost, relativeUncertainty } = request;
  const found: (Shortfall | null)[] = [
    tooLittle("framesAcross", framesAcross, mode.framesAcross, (wanted, got) =>
      Number(got) < 3
        ? `the front is in ${got} frames: fewer than 3 bound its speed and do not measure it`
        : `the front is in ${got} frames, ${wanted} are wanted`,
    ),
    tooMuch(
      "blurPixels",
      blurPixels,
      mode.blurPixels,
      (wanted, got) => `the blur is ${got} px, at most ${wanted} px are allowed`,
    ),
    tooMuch(
      "exposureSeconds",
      1 / mode.rateHz,
      mode.exposureSeconds,
      (wanted, got) => `the exposure of ${got} is longer than the interval of ${wanted}`,
    ),
    minExposureSeconds === null
      ? null
      : tooLittle(
          "exposureSeconds",
          minExposureSeconds,
          mode.exposureSeconds,
          (wanted, got) => `the exposure of ${got} is shorter than the shortest of this mode, ${wanted}`,
        ),
    tooDark(stopsLost, mode.stopsLost),
    tooShort(details.eventSeconds + (request.reactionSeconds ?? 0), expected, request),
    tooMuch(
      "lengthMetres",
      side * mode.metresPerPixel,
      request.lengthMetres,
      (wanted, got) => `the picture shows ${wanted} m at this scale, the length of interest is ${got} m`,
    ),
    tooMuch(
      "relativeUncertainty",
      relativeUncertainty,
      mode.predictedRelativeUncertainty,
      (wanted, got) => `the speed is expected to ${got}, ${wanted} is wanted`,
    ),
  ];
  return found.filter((shortfall) => shortfall !== null);
}

/** How values of a limit are written, where not as plain numbers. */
const TEXTS: Partial<Record<Shortfall["limit"], (value: number) => string>> = {
  exposureSeconds: timeText,
  memory: timeText,
  relativeUncertainty: partText,
};

type Wording = (wanted: string, got: string) => string;

function tooLittle(
  limit: Shortfall["limit"],
  wanted: number | undefined,
  got: number | null,
  say: Wording,
): Shortfall | null {
  if (wanted === undefined || got === null || got >= wanted * (1 - ROUNDING)) return null;
  return shortfall(limit, wanted, got, wanted / got, say);
}

function tooMuch(
  limit: Shortfall["limit"],
  wanted: number | undefined,
  got: number | null,
  say: Wording,
): Shortfall | null {
  if (wanted === undefined || got === null || got <= wanted * (1 + ROUNDING)) return null;
  return shortfall(limit, wanted, got, got / wanted, say);
}

/** The memory, against reaction and event. */
function tooShort(
  wanted: number,
  { figures: { columns, rows, rateHz, recordSeconds: got }, details: { bits, recordFrames } }: ExpectedMode,
  { memoryBytes }: PlanRequest,
): Shortfall | null {
  if (recordFrames === 0 && memoryBytes !== undefined && bits !== null) {
    const frameBytes = (columns * rows * bits) / 8;
    const factor = (Math.ceil(wanted * rateHz * (1 - ROUNDING)) * frameBytes) / memoryBytes;
    return shortfall(
      "memory",
      wanted,
      0,
      factor,
      (needed) => `the memory holds less than one frame, reaction and event take ${needed}`,
    );
  }
  return tooLittle(
    "memory",
    wanted,
    got,
    (needed, lasts) =>
      `the memory lasts ${lasts}, reaction and event take ${needed}: ${timeText(wanted - (got ?? 0), noLess)} too short`,
  );
}

/** Stops count by powers of two. */
function tooDark(wanted: number | undefined, got: number | null): Shortfall | null {
  if (wanted === undefined || got === null || got <= wanted + ROUNDING) return null;
  return shortfall(
    "stopsLost",
    wanted,
    got,
    2 ** (got - wanted),
    (most, lost) => `it loses ${lost} stops against the good exposure, at most ${most} are allowed`,
  );
}

function shortfall(
  limit: Shortfall["limit"],
  wanted: number,
  needed: number,
  factor: number,
  say: Wording,
): Shortfall {
  const text = TEXTS[limit] ?? fourDigits;
  return {
    limit,
    wanted,
    needed,
    factor: Math.min(factor, Number.MAX_VALUE),
    reason: say(text(wanted), text(needed)),
  };
}

import { OVERLAY_KINDS, type OverlayKind, type OverlayWish } from "@frontpace/batch";
import { decimal, parseCount, parseFrameCount, parseLeast, wrong } from "../arguments/option-parsers.js";
import { CliError } from "../terminal/cli-error.js";
import { COLOURS } from "./colours.js";
import type { OverlayArguments } from "./overlay-command.js";

const DEFAULT_MARGIN = 10;
const MOST_ENLARGED = 32;
/** Frames a second; players of GIF take a shorter delay than two hundredths of a second for a tenth. */
const FASTEST = 120;
const FASTEST_GIF = 50;

/** The texts of `frontpace overlay` as what is drawn.
 *  @throws CliError `invalid-option` */
export function overlayOptions(args: OverlayArguments): OverlayWish {
  const { as, margin, textSize, colour, enlarge, play } = args;
  const kinds = kindsOf(as ?? "png");
  for (const [option, text] of Object.entries({ "--take": args.take, "--enlarge": enlarge, "--play": play }))
    if (text !== undefined && kinds.every((kind) => kind === "png"))
      throw new CliError(
        "invalid-option",
        `${option} goes with webp, gif and mp4, which are not asked for: add --as, or leave it out`,
      );
  return {
    kinds,
    marginFrames: margin === undefined ? DEFAULT_MARGIN : parseFrameCount("--margin", margin, "20"),
    colour: colourOf(colour ?? "amber"),
    ...(textSize !== undefined && { textSize: parseLeast("--text-size", textSize, 5, "px", "24") }),
    ...(enlarge !== undefined && { enlarge: enlargedBy(enlarge) }),
    ...(play !== undefined && { framesPerSecond: rateOf(play, kinds) }),
  };
}

function kindsOf(text: string): OverlayKind[] {
  const named = text.split(",").map((kind) => kind.trim().toLowerCase());
  const known = OVERLAY_KINDS.filter((kind) => named.includes(kind));
  if (known.length !== new Set(named).size)
    throw wrong("--as", `one or several of ${OVERLAY_KINDS.join(", ")}`, "png,webp", text);
  return known;
}

function colourOf(text: string): string {
  const name = text.trim().toLowerCase();
  if (Object.hasOwn(COLOURS, name)) return COLOURS[name];
  if (/^#[0-9a-f]{6}$/.test(name)) return name;
  throw wrong("--colour", `one of ${Object.keys(COLOURS).join(", ")}, or #rrggbb`, "white", text);
}

function enlargedBy(text: string): number {
  const count = parseCount("--enlarge", text, "4");
  if (count > MOST_ENLARGED) throw wrong("--enlarge", `a whole number from 1 to ${MOST_ENLARGED}`, "4", text);
  return count;
}

function rateOf(text: string, kinds: readonly OverlayKind[]): number {
  const most = kinds.includes("gif") ? FASTEST_GIF : FASTEST;
  const rate = decimal.test(text.trim()) ? Number(text) : Number.NaN;
  if (!(rate >= 0.1 && rate <= most))
    throw wrong(
      "--play",
      `frames a second from 0.1 to ${most}${kinds.includes("gif") ? ", for a GIF" : ""}`,
      "12",
      text,
    );
  return rate;
}

import type { FrameKind } from "../samples/frame-header.js";

/** How the stored samples of a clip come out of ffmpeg unchanged, those of more than 8 bits with their low byte first. */
export interface ClipSamples extends Pick<FrameKind, "bitDepth" | "colour"> {
  /** Significant bits of a sample. */
  readonly bits: number;
  /** Filters that take the luma plane out, or lay colours out as red, green, blue. */
  readonly filters: string;
  /** Whether there are other planes beside luma, for which limited range is the rule. */
  readonly hasChroma: boolean;
}

const LUMA = /^(gray|ya(?=8|16)|yuvj?a?(?:410|411|420|422|440|444)p)(8|9|10|12|14|16)?(le|be)?$/;
/** Luma and chroma interleaved: laid out in planes first, which copies them. */
const INTERLEAVED: Readonly<Record<string, string>> = {
  nv12: "yuv420p",
  nv21: "yuv420p",
  yuyv422: "yuv422p",
  uyvy422: "yuv422p",
};
const COLOUR_8 = /^(rgb24|bgr24|rgb0|bgr0|0rgb|0bgr|rgba|bgra|argb|abgr|gbrp|gbrap|pal8)$/;
const COLOUR_16 = /^(rgb48|bgr48|rgba64|bgra64|gbrp16|gbrap16)(le|be)$/;

/** Only arrangements are taken of which ffmpeg was seen to hand every sample through: `extractplanes` copies the luma
 *  plane, where a conversion to grey would stretch limited range to full.
 *  @param pixelFormat  by the name that ffprobe has for it
 *  @returns null for another one */
export function clipSamples(pixelFormat: string): ClipSamples | null {
  const [, planes, depth = "8", order] = LUMA.exec(pixelFormat) ?? [];
  if (planes)
    return {
      bits: Number(depth),
      bitDepth: depth === "8" ? 8 : 16,
      colour: false,
      // `extractplanes` does not take all kinds whose high byte comes first.
      filters: `${order === "be" ? `format=${pixelFormat.slice(0, -2)}le,` : ""}extractplanes=y`,
      hasChroma: planes.startsWith("yuv"),
    };
  const grey = { bits: 8, bitDepth: 8, colour: false, hasChroma: true } as const;
  if (pixelFormat in INTERLEAVED)
    return { ...grey, filters: `format=${INTERLEAVED[pixelFormat]},extractplanes=y` };
  if (COLOUR_8.test(pixelFormat)) return { ...grey, colour: true, filters: "format=rgb24", hasChroma: false };
  if (COLOUR_16.test(pixelFormat))
    return { ...grey, bits: 16, bitDepth: 16, colour: true, filters: "format=rgb48le", hasChroma: false };
  return null;
}

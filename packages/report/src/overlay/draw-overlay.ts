import { drawnPng } from "../drawing/drawn-png.js";
import { greyPixels } from "../drawing/grey-pixels.js";
import { loadOutlinePen } from "../drawing/outline-pen.js";
import type { OverlayInput, OverlayNote } from "./overlay-input.js";
import { planOverlay } from "./overlay-plan.js";
import { overlaySvg } from "./overlay-svg.js";

/** An overlay whose layout is decided: the pictures of its frames are drawn one by one. */
export interface Overlay {
  /** px */
  readonly width: number;
  readonly height: number;
  readonly notes: readonly OverlayNote[];
  /** What is drawn over frame k, counted from 0, on nothing.
   *  @returns a PNG file, 8-bit RGB with alpha */
  alone(k: number): Promise<Uint8Array>;
  /** The same over the frame itself.
   *  @param data  brightness, row-major (rows, columns)
   *  @param range  what is black and what is white
   *  @returns row-major 8-bit RGB */
  over(
    k: number,
    data: Float64Array | Float32Array,
    range: { readonly low: number; readonly high: number },
  ): Promise<Uint8Array>;
}

const COLOUR = /^#[0-9a-f]{6}$/i;

/** Decides where front, text and scale bar stand in the frames of an event, so that nothing covers the front.
 *  @throws RangeError naming argument, rule and value */
export async function drawOverlay(input: OverlayInput): Promise<Overlay> {
  const { frames, scale, colour, textSize, result } = input;
  if (frames.length === 0) throw new RangeError("frames must hold one at least, got none");
  if (!(Number.isSafeInteger(scale) && scale >= 1))
    throw new RangeError(`scale must be a whole number >= 1, got ${scale}`);
  if (!COLOUR.test(colour)) throw new RangeError(`colour must be #rrggbb, got ${colour}`);
  if (textSize !== undefined && !(textSize > 0 && Number.isFinite(textSize)))
    throw new RangeError(`textSize must be > 0, got ${textSize}`);
  const { default: sharp } = await import("sharp");
  const pen = await loadOutlinePen();
  const plan = planOverlay(input, pen);
  const { width, height, notes } = plan;
  const { rows, columns } = result.take;
  const svgOf = (k: number) => Buffer.from(overlaySvg(plan, plan.frames[k], colour, scale, pen));
  return {
    width,
    height,
    notes,
    alone: (k) => drawnPng(sharp(svgOf(k))),
    over: async (k, data, range) => {
      if (data.length !== rows * columns)
        throw new RangeError(`data must hold rows x columns = ${rows * columns} values, got ${data.length}`);
      const grey = greyPixels({ data, shape: [rows, columns] }, range, scale);
      const drawn = await sharp(grey, { raw: { width, height, channels: 3 } })
        .composite([{ input: svgOf(k), left: 0, top: 0 }])
        .removeAlpha()
        .raw()
        .toBuffer();
      return new Uint8Array(drawn);
    },
  };
}

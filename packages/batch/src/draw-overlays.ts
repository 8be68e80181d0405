import type { Overlay, OverlayNote } from "@frontpace/report";
import { drawnMark } from "@frontpace/report/words";
import {
  type CourseFrame,
  eachPicture,
  eventCourse,
  type MeasureContext,
  openFootage,
  TakeError,
  type TakeFrames,
  type TakeResult,
  type TipRow,
} from "@frontpace/take";

export const OVERLAY_KINDS = ["png", "webp", "gif", "mp4"] as const;
export type OverlayKind = (typeof OVERLAY_KINDS)[number];

/** What is drawn of an event, and how. */
export interface OverlayWish {
  readonly kinds: readonly OverlayKind[];
  /** Frames on either side of those that show the front. */
  readonly marginFrames: number;
  /** #rrggbb */
  readonly colour: string;
  /** px of the picture that is drawn. Default: by its size. */
  readonly textSize?: number;
  /** Of animations and clips. Default: what makes them about eight seconds long, 10 to 25. */
  readonly framesPerSecond?: number;
  /** How many px of animations and clips a pixel of the footage is wide. Default: until the longer side has 640. */
  readonly enlarge?: number;
}

export interface DrawnOverlays {
  /** PNG files by name, whose numbers are those of the frames; empty where they were not wanted. */
  readonly sequence: Readonly<Record<string, Uint8Array>>;
  /** overlay.webp, overlay.gif, overlay.mp4 as wanted. */
  readonly clips: Readonly<Record<string, Uint8Array>>;
  /** Each names the kinds that it is about. */
  readonly notes: readonly OverlayNote[];
}

/** Names of a sequence, of this or an earlier overlay. */
export const SEQUENCE_NAME = /^overlay_-?\d+\.png$/;

const WANTED_SIDE = 640;
const MOST_ENLARGED = 16;
/** Seconds; frames a second. */
const WANTED_LENGTH = 8;
const SLOWEST = 10;
const FASTEST = 25;
/** An animation is joined in memory, bytes. */
const MOST_BYTES = 1 << 30;
/** Frames looked at for the contrast. */
const LOOKED_AT = 9;

/** Draws the front, the speed, the distance run and the time over the frames of an event; nothing is written.
 *  @param tips  rows of tips.csv, where there is one
 *  @param footage  folder or file, for all kinds but png
 *  @throws TakeError, the frame loader's error; `signal.reason` when stopped */
export async function drawOverlays(
  result: TakeResult,
  tips: readonly TipRow[] | null,
  wish: OverlayWish,
  footage: string | null,
  context: MeasureContext = {},
): Promise<DrawnOverlays> {
  const course = eventCourse(result, tips, wish.marginFrames);
  const moving = wish.kinds.filter((kind) => kind !== "png");
  const clips =
    moving.length > 0 && footage !== null
      ? await drawClips(result, course, wish, footage, context)
      : { files: {}, notes: [] };
  const sequence = wish.kinds.includes("png")
    ? await drawSequence(result, course, wish, context)
    : { files: {}, notes: [] };
  return {
    sequence: sequence.files,
    clips: clips.files,
    notes: [...about("png", sequence.notes), ...about(moving.join(", "), clips.notes)],
  };
}

interface Drawn {
  readonly files: Readonly<Record<string, Uint8Array>>;
  readonly notes: readonly OverlayNote[];
}

function about(kinds: string, notes: readonly OverlayNote[]): OverlayNote[] {
  return notes.map(({ code, message }) => ({ code, message: `in ${kinds} ${message}` }));
}

async function drawSequence(
  result: TakeResult,
  course: readonly CourseFrame[],
  { colour, textSize }: OverlayWish,
  { signal, onProgress }: MeasureContext,
): Promise<Drawn> {
  const { drawOverlay } = await import("@frontpace/report");
  const overlay = await drawOverlay({
    result,
    frames: course,
    colour,
    scale: 1,
    ...(textSize !== undefined && { textSize }),
  });
  const digits = Math.max(4, ...course.map(({ number }) => String(Math.abs(number)).length));
  const files: Record<string, Uint8Array> = {};
  for (const [k, { number }] of course.entries()) {
    const name = `overlay_${number < 0 ? "-" : ""}${String(Math.abs(number)).padStart(digits, "0")}.png`;
    files[name] = await overlay.alone(k);
    signal?.throwIfAborted();
    onProgress?.({ stage: "drawing", done: k + 1, total: course.length });
  }
  return { files, notes: overlay.notes };
}

async function drawClips(
  result: TakeResult,
  course: readonly CourseFrame[],
  wish: OverlayWish,
  footage: string,
  context: MeasureContext,
): Promise<Drawn> {
  const { frames } = await openFootage(result, footage, context);
  try {
    const { rows, columns } = frames;
    const scale =
      wish.enlarge ?? Math.min(MOST_ENLARGED, Math.max(1, Math.ceil(WANTED_SIDE / Math.max(rows, columns))));
    const there = new Set(frames.numbers);
    const shown = course.filter(({ number }) => there.has(number));
    const { drawOverlay, joinPictures } = await import("@frontpace/report");
    const overlay = await drawOverlay({
      result,
      frames: shown,
      colour: wish.colour,
      scale,
      ...(wish.textSize !== undefined && { textSize: wish.textSize }),
    });
    const pictures = () => drawnOver(frames, shown, overlay, context);
    const { width, height } = overlay;
    const framesPerSecond =
      wish.framesPerSecond ?? Math.min(FASTEST, Math.max(SLOWEST, Math.round(shown.length / WANTED_LENGTH)));
    const animations = (["webp", "gif"] as const).filter((kind) => wish.kinds.includes(kind));
    const joined = animations.length > 0 ? await allOf(pictures(), shown.length, overlay) : null;
    const files: Record<string, Uint8Array> = {};
    if (wish.kinds.includes("mp4")) {
      const { encodeClip } = await import("@frontpace/frame-loader");
      const one = joined ? slices(joined, 3 * width * height) : pictures();
      const clip = { rows: height, columns: width, framesPerSecond, pictures: one, comment: drawnMark };
      files["overlay.mp4"] = await encodeClip(clip, context.signal);
    }
    for (const kind of animations)
      files[`overlay.${kind}`] = await joinPictures(
        { width, height, pictures: joined as Uint8Array, framesPerSecond },
        kind,
      );
    context.signal?.throwIfAborted();
    return { files, notes: overlay.notes };
  } finally {
    await frames.close();
  }
}

/** The frames, all in the same greys, with what is drawn over them. */
async function* drawnOver(
  frames: TakeFrames,
  shown: readonly CourseFrame[],
  overlay: Overlay,
  { signal, onProgress }: MeasureContext,
): AsyncGenerator<Uint8Array> {
  const { numbers, rows, columns } = frames;
  const start = numbers.indexOf(shown[0].number);
  const end = numbers.indexOf(shown[shown.length - 1].number) + 1;
  const looked: { data: Float64Array; shape: readonly [number, number] }[] = [];
  const every = Math.max(1, Math.ceil((end - start - 1) / (LOOKED_AT - 1)));
  for (let index = start; index < end; index += every)
    for await (const { data } of eachPicture(frames, index, index + 1, signal))
      looked.push({ data, shape: [rows, columns] });
  const { commonRange } = await import("@frontpace/report");
  const range = commonRange(looked);
  const places = new Map(shown.map(({ number }, k) => [number, k]));
  for await (const { number, data } of eachPicture(frames, start, end, signal)) {
    const k = places.get(number);
    if (k === undefined) continue;
    yield await overlay.over(k, data, range);
    signal?.throwIfAborted();
    onProgress?.({ stage: "drawing over the footage", done: k + 1, total: shown.length });
  }
}

async function allOf(
  pictures: AsyncIterable<Uint8Array>,
  count: number,
  { width, height }: Overlay,
): Promise<Uint8Array> {
  const size = 3 * width * height;
  if (count * size > MOST_BYTES)
    throw new TakeError(
      "animation-too-large",
      `${count} frames of ${width} x ${height} px are too many for an animation: take fewer beside the event, enlarge less, or make an mp4, which has no such limit`,
    );
  const joined = new Uint8Array(count * size);
  let k = 0;
  for await (const picture of pictures) joined.set(picture, size * k++);
  return joined;
}

async function* slices(joined: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < joined.length; at += size) yield joined.subarray(at, at + size);
}

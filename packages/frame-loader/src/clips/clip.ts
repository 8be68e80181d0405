import { resolve } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import type { Container } from "../places/container.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { checkSize } from "../places/whole-frames.js";
import { type Samples, typedSamples } from "../samples/frame-of.js";
import { sampleRange } from "../samples/sample-range.js";
import type { Region } from "../types.js";
import { ClipDecoder, type ClipSource } from "./clip-decoder.js";
import type { ClipForm } from "./clip-form.js";
import { clipIndex } from "./clip-index.js";
import { clipSamples } from "./clip-samples.js";
import { clipWarnings, isLimited } from "./clip-warnings.js";

/** Frames that are rather decoded in passing than a decoder started anew, where a key frame lies between. */
const SHORT_WAY = 32;

/** A clip, read through the programs ffmpeg and ffprobe on the PATH. Frames in order come from one decoder; a jump back
 *  or far ahead starts it again at the key frame before.
 *  @throws FrameLoadError `decoder-missing`, `corrupt-frame`, `unsupported-frame`; signal.reason */
export async function openClip(
  file: PositionedFile,
  path: string,
  form: ClipForm,
  signal?: AbortSignal,
): Promise<Container> {
  const place = resolve(path);
  const { facts, index } = await clipIndex(file, place, form, signal);
  const [rows, columns] = [Number(facts.get("height")), Number(facts.get("width"))];
  checkSize(file.name, rows, columns);
  const pixelFormat = facts.get("pix_fmt") ?? "";
  const samples = clipSamples(pixelFormat);
  if (!samples) throw unsupported(file.name, pixelFormat);
  const [ticks, perSecond] = (facts.get("time_base") ?? "1/1").split("/").map(Number);
  const secondsPerTick = ticks / perSecond;
  const passthrough = passthroughOption(facts.get("version") ?? "");
  const range = sampleRange(samples.bits, isLimited(facts, samples.hasChroma));
  const kind = { rows, columns, bitDepth: samples.bitDepth, colour: samples.colour, range };
  return {
    kind,
    count: index.count,
    warnings: clipWarnings(file.name, facts, samples, index, secondsPerTick),
    readingBytes: () => 0,
    isDecoded: true,
    checkUnchanged: () => file.checkUnchanged(),
    ...clipReader(file, {
      ...{ path: place, name: file.name, form, rows, columns, pixelFormat, samples, index },
      ...{ secondsPerTick, passthrough },
    }),
  };
}

/** Hands frames out one at a time, in the order in which they are asked for. */
function clipReader(file: PositionedFile, source: ClipSource): Pick<Container, "readSamples" | "close"> {
  const { samples, index } = source;
  let decoder: ClipDecoder | null = null;
  let before: Promise<unknown> = Promise.resolve();
  let isClosed = false;
  let served: AbortSignal | undefined;
  const watched = new Map<AbortSignal, () => void>();

  const stop = async (): Promise<void> => {
    const stopped = decoder;
    decoder = null;
    await stopped?.kill();
  };
  /** Once a reader has called off, the decoder goes, also where it idles. */
  const watch = (signal: AbortSignal): void => {
    if (watched.has(signal)) return;
    const onAbort = (): void => {
      if (served === signal) void stop();
      else before = before.then(stop);
    };
    watched.set(signal, onAbort);
    signal.addEventListener("abort", onAbort, { once: true });
  };
  const begin = async (
    wanted: number,
    region: Region,
    isCareful: boolean,
    from = keyBefore(index, wanted),
  ): Promise<ClipDecoder> => {
    await stop();
    served?.throwIfAborted();
    if (isClosed)
      throw new FrameLoadError("closed", `${source.name} has been closed: open it again to read on`);
    decoder = new ClipDecoder(source, region, wanted, from, isCareful);
    return decoder;
  };
  const readOn = async (from: ClipDecoder, wanted: number): Promise<Buffer> => {
    while (from.next < wanted) await from.read();
    return from.read();
  };
  const isWorthTrying = (error: unknown, signal: AbortSignal | undefined): boolean =>
    !isClosed && !signal?.aborted && (error as FrameLoadError).code === "corrupt-frame";
  const readBytes = async (
    wanted: number,
    region: Region,
    signal: AbortSignal | undefined,
  ): Promise<Buffer> => {
    const running = decoder && isOnTheWay(decoder, index, wanted, region) ? decoder : null;
    try {
      return await readOn(running ?? (await begin(wanted, region, false)), wanted);
    } catch (error) {
      if (!isWorthTrying(error, signal)) throw error;
    }
    try {
      // Several frames are decoded at a time, and an error in one is met before those ahead of it are handed out.
      return await readOn(await begin(wanted, region, true), wanted);
    } catch (error) {
      if (!isWorthTrying(error, signal) || keyBefore(index, wanted) === null) throw error;
      // What is marked as a key frame may be one that is whole only some frames on, or be followed by frames that build on
      // others before it: then the clip is decoded from its beginning.
      return await readOn(await begin(wanted, region, true, null), wanted).catch(() => {
        throw error;
      });
    }
  };

  return {
    readSamples(wanted, region, signal): Promise<Samples> {
      const work = before.then(async () => {
        signal?.throwIfAborted();
        served = signal;
        if (signal) watch(signal);
        try {
          return typedSamples(await readBytes(wanted, region, signal), samples.bitDepth);
        } catch (error) {
          await stop();
          signal?.throwIfAborted();
          throw error;
        } finally {
          served = undefined;
        }
      });
      before = work.catch(() => {});
      return work;
    },
    async close() {
      isClosed = true;
      for (const [signal, onAbort] of watched) signal.removeEventListener("abort", onAbort);
      await stop();
      await before;
      await stop();
      await file.close();
    },
  };
}

/** Whether reading on is no longer a way than starting anew. */
function isOnTheWay(
  { next, region }: ClipDecoder,
  index: ClipSource["index"],
  wanted: number,
  other: Region,
): boolean {
  const isSameRegion =
    region.row === other.row &&
    region.column === other.column &&
    region.rows === other.rows &&
    region.columns === other.columns;
  if (!isSameRegion || next > wanted) return false;
  const key = keyBefore(index, wanted);
  return wanted - next <= SHORT_WAY || key === null || key <= (index.ticks?.[next] ?? 0);
}

/** Time of the last frame up to `wanted` at which decoding may begin; null: the first of the clip. */
function keyBefore({ ticks, keyTicks }: ClipSource["index"], wanted: number): number | null {
  if (!ticks) return null;
  let [low, high] = [0, keyTicks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (keyTicks[middle] <= ticks[wanted]) low = middle + 1;
    else high = middle;
  }
  return low <= 1 ? null : keyTicks[low - 1];
}

/** @see the release notes of ffmpeg 5.1, in which `-fps_mode` takes the place of `-vsync` */
function passthroughOption(version: string): readonly string[] {
  const [, major, minor] = /^n?(\d+)\.(\d+)/.exec(version) ?? [];
  const isOld = Number(major) < 5 || (Number(major) === 5 && Number(minor) < 1);
  return isOld ? ["-vsync", "0"] : ["-fps_mode", "passthrough"];
}

function unsupported(name: string, pixelFormat: string): FrameLoadError {
  const what = pixelFormat.startsWith("bayer")
    ? `a mosaic of colour filters that no one has interpolated (${pixelFormat}): neighbouring samples differ in colour, not in light`
    : `samples arranged as ${pixelFormat || "nothing known"}`;
  return new FrameLoadError(
    "unsupported-frame",
    `${name} holds ${what}. Export grey frames, or colour of 8 or 16 bits`,
    { file: name },
  );
}

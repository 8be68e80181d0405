import type { FrameLoadError } from "../frame-load-error.js";
import { corrupt } from "../samples/frame-faults.js";
import type { Region } from "../types.js";
import { ChildProgram } from "./child-program.js";
import type { ClipForm } from "./clip-form.js";
import { type ClipIndex, clipInput, interlaced, isOfContainer } from "./clip-index.js";
import type { ClipSamples } from "./clip-samples.js";

/** All that reading a clip goes by. */
export interface ClipSource {
  readonly path: string;
  /** Base name, for messages. */
  readonly name: string;
  readonly form: ClipForm;
  readonly rows: number;
  readonly columns: number;
  readonly pixelFormat: string;
  readonly samples: ClipSamples;
  readonly index: ClipIndex;
  readonly secondsPerTick: number;
  /** How this ffmpeg is told neither to repeat nor to drop frames. */
  readonly passthrough: readonly string[];
}

/** What `showinfo` says of a frame. */
interface FrameInfo {
  /** NaN where it has no time. */
  readonly ticks: number;
  readonly isKey: boolean;
  readonly isProgressive: boolean;
  readonly isSameKind: boolean;
}

const INFO = /\bn: *\d+ pts: *(NOPTS|-?\d+) .*?\bfmt:(\w+) .*?\bs:(\d+)x(\d+) i:(.) iskey:(\d)/;
/** Frames go out of ffmpeg at times of their own: those of the clip may be alike, where it tells time more coarsely than its
 *  frames follow one another, and are then refused on the way out. */
const EVEN_TIMES = {
  filters: "settb=1/1000000,setpts=N",
  options: ["-enc_time_base", "1/1000000"],
} as const;
const ERROR = /\[(error|fatal|panic)\]/;

/** One ffmpeg at work, which gives the samples of one region of frame after frame. Beside the samples it says of every
 *  frame when it is shown, and only the frame that the index has at that time is taken for it. */
export class ClipDecoder {
  /** Index of the frame that {@link read} gives. */
  next: number;
  private readonly child: ChildProgram;
  private readonly bytes: number;
  private readonly infos: FrameInfo[] = [];
  private key: boolean;
  private rest: Buffer | null = null;
  private damage = "";

  /** @param first  index of the first frame wanted
   *  @param keyTicks  time of the key frame to begin at, null: begin with the clip
   *  @param isCareful  on one thread, where an error is met no earlier than it must be */
  constructor(
    private readonly source: ClipSource,
    readonly region: Region,
    first: number,
    keyTicks: number | null,
    isCareful: boolean,
  ) {
    const { path, form, samples, index, secondsPerTick, passthrough } = source;
    this.bytes = region.rows * region.columns * (samples.bitDepth / 8) * (samples.colour ? 3 : 1);
    this.key = keyTicks === null;
    const isTimed = index.ticks !== null;
    this.next = isTimed ? first : 0;
    const wantedTicks = index.ticks?.[first] ?? 0;
    const seek =
      keyTicks === null ? [] : ["-seek_timestamp", "1", "-ss", microseconds(keyTicks * secondsPerTick)];
    const { row, column, rows, columns } = region;
    const filters = [
      "showinfo=checksum=0",
      ...(isTimed ? [`trim=start_pts=${wantedTicks}`] : []),
      samples.filters,
      `crop=w=${columns}:h=${rows}:x=${column}:y=${row}:exact=1`,
      EVEN_TIMES.filters,
    ];
    this.child = new ChildProgram(
      "ffmpeg",
      [
        ...["-hide_banner", "-nostdin", "-nostats", "-loglevel", "repeat+level+info"],
        ...["-noautorotate", "-copyts", "-noaccurate_seek", ...seek],
        ...["-err_detect", "crccheck+explode", ...(isCareful ? ["-threads", "1"] : [])],
        ...[...clipInput(path, form), "-map", "0:V:0", "-vf", filters.join(",")],
        ...[...passthrough, ...EVEN_TIMES.options, "-autoscale", "0", "-f", "rawvideo", "pipe:1"],
      ],
      (line) => this.onLine(line, isTimed ? wantedTicks : Number.NEGATIVE_INFINITY),
    );
  }

  /** Samples of the frame `next`, as bytes.
   *  @throws FrameLoadError `corrupt-frame` where it does not decode or another comes in its place,
   *    `unsupported-frame`, `unreadable-frame`, `decoder-missing` */
  async read(): Promise<Buffer> {
    const frame = Buffer.allocUnsafeSlow(this.bytes);
    let done = 0;
    while (done < this.bytes || this.infos.length === 0) {
      this.checkUndamaged();
      const chunk: Buffer | null =
        done === this.bytes ? null : (this.rest ?? (this.child.output.read() as Buffer | null));
      if (chunk) {
        const used = Math.min(chunk.length, this.bytes - done);
        chunk.copy(frame, done, 0, used);
        done += used;
        this.rest = used < chunk.length ? chunk.subarray(used) : null;
      } else if (this.child.ended) {
        this.child.checkStarted();
        throw this.damaged(this.child.lastError || "the decoder ended before it");
      } else await this.child.news();
    }
    // The word on the frame may have come last, and with it that on its damage.
    this.checkUndamaged();
    const info = this.infos.shift() as FrameInfo;
    if (!info.isProgressive) throw interlaced(this.source.name);
    if (!info.isSameKind) throw this.damaged("its size or kind differs from that of the first");
    const { ticks } = this.source.index;
    if (ticks !== null && (info.ticks !== ticks[this.next] || !info.isKey))
      throw this.damaged(
        info.ticks === ticks[this.next] ? "no key frame was met before it" : "another comes in its place",
      );
    this.next += 1;
    return frame;
  }

  /** @returns once the program has gone */
  kill(): Promise<void> {
    return this.child.kill();
  }

  private onLine(line: string, wantedTicks: number): boolean {
    const [, ticks, format, columns, rows, scan, isKey] = INFO.exec(line) ?? [];
    if (ticks !== undefined) {
      const at = Number(ticks);
      // Frames before the first key frame may lack what they refer to.
      this.key ||= isKey === "1";
      if (Number.isNaN(at) || at >= wantedTicks)
        this.infos.push({
          ticks: at,
          isKey: this.key,
          isProgressive: scan === "P",
          isSameKind:
            format === this.source.pixelFormat &&
            Number(columns) === this.source.columns &&
            Number(rows) === this.source.rows,
        });
    }
    const isError = ERROR.test(line);
    // What follows it may refer to the damaged frame.
    if (isError && !isOfContainer(line) && this.damage === "") this.damage = line.trim();
    return isError;
  }

  private checkUndamaged(): void {
    if (this.damage !== "") throw this.damaged(this.damage);
  }

  private damaged(why: string): FrameLoadError {
    return corrupt(
      this.source.name,
      `is damaged at frame ${this.next} or shortly before: ${why}`,
      "copy or export it again",
    );
  }
}

/** Rounded up, so that seeking backwards from there finds what begins at that time. */
function microseconds(seconds: number): string {
  return `${Math.ceil(seconds * 1e6 - 1e-3)}us`;
}

import { type ChildProcess, type ChildProcessByStdio, spawn } from "node:child_process";
import type { Readable } from "node:stream";
import { FrameLoadError } from "./frame-load-error.js";

/** Nothing heard for so long from a program that should be at work: it hangs. */
const STALLED_MILLISECONDS = 60_000;

const MOST_ERRORS = 100;

/** One of the programs that clips are read through, at work: its errors are read as they come, and it does not outlive
 *  {@link kill}. */
export class ChildProgram {
  readonly output: Readable;
  /** The last line it wrote on what went wrong. */
  lastError = "";
  /** The first lines of that kind. */
  readonly errors: string[] = [];
  private readonly child: ChildProcessByStdio<null, Readable, Readable>;
  private readonly gone: Promise<void>;
  private missing: Error | null = null;
  private isOver = false;
  private outputEnded = false;
  private wake: (() => void)[] = [];

  /** @param onLine  is given every line of its error stream; lines for which it gives false are no errors */
  constructor(
    private readonly program: "ffmpeg" | "ffprobe",
    args: readonly string[],
    onLine: (line: string) => boolean = () => true,
  ) {
    this.child = spawn(program, args, {
      stdio: ["ignore", "pipe", "pipe"],
      windowsHide: true,
      env: { ...process.env, AV_LOG_FORCE_NOCOLOR: "1" },
    });
    this.output = this.child.stdout;
    // Left open and idle, it does not keep this process from ending, and it ends with this process.
    for (const held of [this.child, this.child.stdout, this.child.stderr] as Partial<ChildProcess>[])
      held.unref?.();
    const changed = () => this.changed();
    this.output.on("readable", changed).on("error", changed);
    this.output.on("end", () => {
      this.outputEnded = true;
      changed();
    });
    const take = (line: string): void => {
      if (line.trim() === "" || !onLine(line)) return;
      this.lastError = line.trim();
      if (this.errors.length < MOST_ERRORS) this.errors.push(this.lastError);
    };
    let rest = "";
    this.child.stderr.setEncoding("utf8").on("data", (text: string) => {
      const lines = (rest + text).split(/[\r\n]+/);
      rest = (lines.pop() ?? "").slice(-4096);
      lines.forEach(take);
      changed();
    });
    this.child.stderr.on("error", changed);
    this.gone = new Promise((resolve) => {
      this.child.once("error", (error) => {
        this.missing = error;
        this.isOver = true;
        this.outputEnded = true;
        changed();
        resolve();
      });
      this.child.once("close", () => {
        take(rest);
        this.isOver = true;
        changed();
        resolve();
      });
    });
  }

  /** Whether it has gone and all it wrote was taken in. */
  get ended(): boolean {
    return this.isOver && this.outputEnded;
  }

  /** Waits until it wrote something or ended. */
  async news(): Promise<void> {
    if (this.ended) return;
    let timer: NodeJS.Timeout | undefined;
    const heard = new Promise<void>((resolve) => this.wake.push(resolve));
    const stalled = new Promise<never>((_resolve, reject) => {
      const error = new FrameLoadError(
        "unreadable-frame",
        `${this.program} gave nothing for ${STALLED_MILLISECONDS / 1000} s: the clip or the disk it lies on cannot be read`,
      );
      timer = setTimeout(() => reject(error), STALLED_MILLISECONDS);
    });
    try {
      await Promise.race([heard, stalled]);
    } finally {
      clearTimeout(timer);
    }
  }

  /** @throws FrameLoadError `decoder-missing` where the program is not there */
  checkStarted(): void {
    if (!this.missing) return;
    throw new FrameLoadError(
      "decoder-missing",
      `clips are read through the programs ffmpeg and ffprobe, and ${this.program} could not be started (${this.missing.message}): install ffmpeg 4.4 or newer, which holds both (on Debian and Ubuntu: apt install ffmpeg), and see that it is on the PATH`,
      { cause: this.missing },
    );
  }

  /** @returns once it has gone */
  async kill(): Promise<void> {
    if (!this.isOver) {
      this.child.ref();
      this.child.kill("SIGKILL");
    }
    this.output.destroy();
    this.outputEnded = true;
    this.changed();
    await this.gone;
  }

  private changed(): void {
    const waiting = this.wake;
    this.wake = [];
    for (const resolve of waiting) resolve();
  }
}

/** Runs a program to its end, its output handed on line by line.
 *  @returns the errors it wrote
 *  @throws FrameLoadError `decoder-missing`; signal.reason */
export async function runProgram(
  program: "ffmpeg" | "ffprobe",
  args: readonly string[],
  onOutput: (line: string) => void,
  signal: AbortSignal | undefined,
): Promise<Pick<ChildProgram, "lastError" | "errors">> {
  signal?.throwIfAborted();
  const child = new ChildProgram(program, args);
  const onAbort = () => void child.kill();
  signal?.addEventListener("abort", onAbort, { once: true });
  try {
    let rest = "";
    child.output.setEncoding("utf8");
    while (true) {
      const text: string | null = child.output.read();
      if (text !== null) {
        const lines = (rest + text).split(/\r?\n/);
        rest = lines.pop() ?? "";
        for (const line of lines) onOutput(line);
      } else if (child.ended) break;
      else await child.news();
    }
    signal?.throwIfAborted();
    child.checkStarted();
    if (rest !== "") onOutput(rest);
    return child;
  } finally {
    signal?.removeEventListener("abort", onAbort);
    await child.kill();
  }
}

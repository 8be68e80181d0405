import { type ChildProcess, type ChildProcessByStdio, spawn } from "node:child_process";
import type { Readable, Writable } from "node:stream";
import { FrameLoadError } from "../frame-load-error.js";

/** Nothing heard for so long from a program that should be at work: it hangs. */
const STALLED_MILLISECONDS = 60_000;

const MOST_ERRORS = 100;

/** One of the programs that clips are read and written through, at work: its errors are read as they come, and it does not
 *  outlive {@link kill}. */
export class ChildProgram {
  readonly output: Readable;
  /** The last line it wrote on what went wrong. */
  lastError = "";
  /** The first lines of that kind. */
  readonly errors: string[] = [];
  /** What it ended with; null while it runs, and where it was stopped. */
  exitCode: number | null = null;
  private readonly child: ChildProcessByStdio<Writable | null, Readable, Readable>;
  private readonly gone: Promise<void>;
  private missing: Error | null = null;
  private isOver = false;
  private outputEnded = false;
  private wake: (() => void)[] = [];

  /** @param onLine  is given every line of its error stream; lines for which it gives false are no errors
   *  @param takesInput  whether {@link write} is used */
  constructor(
    private readonly program: "ffmpeg" | "ffprobe",
    args: readonly string[],
    onLine: (line: string) => boolean = () => true,
    takesInput = false,
  ) {
    const child = spawn(program, args, {
      stdio: [takesInput ? "pipe" : "ignore", "pipe", "pipe"],
      windowsHide: true,
      env: { ...process.env, AV_LOG_FORCE_NOCOLOR: "1" },
    });
    this.child = child as ChildProcessByStdio<Writable | null, Readable, Readable>;
    this.output = this.child.stdout;
    // A program that ends early closes its input: its exit code tells.
    this.child.stdin?.on("error", () => this.changed()).on("drain", () => this.changed());
    // Left open and idle, it does not keep this process from ending, and it ends with this process.
    const { stdin, stdout, stderr } = this.child;
    for (const held of [this.child, stdin, stdout, stderr] as (Partial<ChildProcess> | null)[])
      held?.unref?.();
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
      this.child.once("close", (code) => {
        this.exitCode = code;
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
        `${this.program} did nothing for ${STALLED_MILLISECONDS / 1000} s: the clip or the disk it lies on cannot be read or written`,
      );
      timer = setTimeout(() => reject(error), STALLED_MILLISECONDS);
    });
    try {
      await Promise.race([heard, stalled]);
    } finally {
      clearTimeout(timer);
    }
  }

  /** Whether it has gone; what it wrote may still be to be read. */
  get hasGone(): boolean {
    return this.isOver;
  }

  /** Hands bytes to it and waits until it takes more; once it has ended nothing is written. */
  async write(bytes: Uint8Array): Promise<void> {
    const { stdin } = this.child;
    if (this.isOver || !stdin) return;
    stdin.write(bytes);
    while (!this.isOver && !stdin.destroyed && stdin.writableNeedDrain) await this.news();
  }

  /** Nothing more comes for it. */
  endInput(): void {
    this.child.stdin?.end();
  }

  /** Why it could not be started; null where it was. */
  get reasonMissing(): Error | null {
    return this.missing;
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

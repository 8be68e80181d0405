import { type FileHandle, open } from "node:fs/promises";
import { basename } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import type { FileStamp } from "../samples/file-stamp.js";
import { corrupt, unreadableFrame } from "../samples/frame-faults.js";

/** One open file, read in places. Its size is that at opening. */
export class PositionedFile {
  private bytes = 0;

  private constructor(
    /** Base name, for messages. */
    readonly name: string,
    /** At opening. */
    readonly stamp: FileStamp,
    private readonly handle: FileHandle,
  ) {}

  /** Bytes. */
  get size(): number {
    return this.stamp.size;
  }

  /** @param stamp  where it has just been looked at; else it is looked at
   *  @throws FrameLoadError `unreadable-frame` */
  static async open(path: string, stamp?: FileStamp): Promise<PositionedFile> {
    const name = basename(path);
    let handle: FileHandle;
    try {
      handle = await open(path, "r");
    } catch (cause) {
      throw unreadableFrame(name, cause);
    }
    if (stamp) return new PositionedFile(name, stamp, handle);
    const { size, mtimeMs } = await handle.stat();
    return new PositionedFile(name, { size, modifiedMilliseconds: mtimeMs }, handle);
  }

  /** Bytes read since it was opened. */
  get bytesRead(): number {
    return this.bytes;
  }

  /** @returns exactly `length` bytes from `position` on
   *  @throws FrameLoadError `corrupt-frame` where the file ends before them, `changed-frame` where it has become
   *    shorter, `unreadable-frame` */
  async read(position: number, length: number): Promise<Buffer> {
    if (!(position >= 0 && length >= 0 && position + length <= this.size))
      throw corrupt(
        this.name,
        `is cut short: ${length} bytes at ${position} are wanted, and it has ${this.size}`,
        "export it again",
      );
    const bytes = Buffer.allocUnsafeSlow(length);
    let done = 0;
    while (done < length) {
      const { bytesRead } = await this.handle
        .read(bytes, done, length - done, position + done)
        .catch((cause: unknown) => {
          throw unreadableFrame(this.name, cause);
        });
      if (bytesRead === 0) throw this.changed();
      done += bytesRead;
      this.bytes += bytesRead;
    }
    return bytes;
  }

  /** @returns up to `length` bytes from `position` on, fewer at the end of the file */
  readUpTo(position: number, length: number): Promise<Buffer> {
    return this.read(position, Math.max(0, Math.min(length, this.size - position)));
  }

  /** @throws FrameLoadError `changed-frame` where the file was written to since it was opened */
  async checkUnchanged(): Promise<void> {
    const { size, mtimeMs } = await this.handle.stat();
    if (size !== this.size || mtimeMs !== this.stamp.modifiedMilliseconds) throw this.changed();
  }

  async close(): Promise<void> {
    await this.handle.close();
  }

  private changed(): FrameLoadError {
    return new FrameLoadError(
      "changed-frame",
      `${this.name} was written to after it was opened: wait until the export has finished, then start again`,
      { file: this.name },
    );
  }
}

import type { RunContext } from "./io.js";

export interface Progress {
  readonly stage: string;
  readonly done: number;
  readonly total: number;
  /** What else is said, as far as there is room. */
  readonly besides?: string;
}

export interface ProgressLine {
  update(progress: Progress): void;
  /** Takes the line away, so that what follows starts on a clean one. */
  clear(): void;
}

const barLength = 24;
const clearLine = "\r\u001b[2K";

/** A bar on standard error; nothing at all where that is no terminal. */
export function progressLine({ stderr }: RunContext): ProgressLine {
  if (!stderr.isTTY) return { update: () => {}, clear: () => {} };
  let shown = false;
  return {
    update({ stage, done, total, besides = "" }) {
      const part = total > 0 ? Math.min(1, done / total) : 0;
      const filled = Math.round(part * barLength);
      const bar = "#".repeat(filled) + "-".repeat(barLength - filled);
      // A line that is broken would not be taken away whole.
      const text = `[${bar}] ${stage} ${done}/${total}${besides}`.slice(0, (stderr.columns ?? 80) - 1);
      stderr.write(`${clearLine}${text}`);
      shown = true;
    },
    clear() {
      if (shown) stderr.write(clearLine);
      shown = false;
    },
  };
}

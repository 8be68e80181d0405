/** Where a run writes to: the part of a process stream that is used. */
export interface Output {
  write(text: string): unknown;
  /** A terminal: progress and colour make sense. */
  readonly isTTY?: boolean;
  /** Characters in a line of a terminal. */
  readonly columns?: number;
}

export interface RunContext {
  readonly stdout: Output;
  readonly stderr: Output;
  /** Stops the run: exit code 130, nothing half-written. */
  readonly signal?: AbortSignal;
  /** Default: that of the process. */
  readonly env?: Readonly<Record<string, string | undefined>>;
}

/** Colours a word on a terminal, unless NO_COLOR asks for none. */
export function paint(context: RunContext, text: string): string {
  const { stderr, env = process.env } = context;
  return stderr.isTTY && !env.NO_COLOR ? `\u001b[33m${text}\u001b[39m` : text;
}

/** Says something that could change what the user does. */
export function warn(context: RunContext, message: string): void {
  context.stderr.write(`${paint(context, "warning:")} ${message}\n`);
}

/** Says what was wrong. */
export function complain(context: RunContext, message: string): void {
  context.stderr.write(`${paint(context, "error:")} ${message}\n`);
}

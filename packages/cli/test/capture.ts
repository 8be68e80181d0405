import { run } from "../src/run.js";
import type { RunContext } from "../src/terminal/io.js";

export interface Captured {
  readonly context: RunContext;
  readonly stdout: () => string;
  readonly stderr: () => string;
}

/** A context that keeps what is written. */
export function capture(
  options: { signal?: AbortSignal; isTTY?: boolean; env?: RunContext["env"] } = {},
): Captured {
  const { signal, isTTY = false, env = {} } = options;
  const out: string[] = [];
  const err: string[] = [];
  return {
    context: {
      stdout: { write: (text) => out.push(text) },
      stderr: { write: (text) => err.push(text), isTTY },
      env,
      ...(signal && { signal }),
    },
    stdout: () => out.join(""),
    stderr: () => err.join(""),
  };
}

/** Runs the command in this process. */
export async function runCaptured(argv: readonly string[], options: Parameters<typeof capture>[0] = {}) {
  const captured = capture(options);
  const code = await run(argv, captured.context);
  return { code, stdout: captured.stdout(), stderr: captured.stderr() };
}

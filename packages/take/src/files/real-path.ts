import { realpath } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";

/** The whole path with links resolved as far as it exists: what lies behind that need not be there, or may not be looked into. */
export async function realPath(path: string): Promise<string> {
  const whole = resolve(path);
  const found = await realpath(whole).catch(() => null);
  if (found !== null || dirname(whole) === whole) return found ?? whole;
  return join(await realPath(dirname(whole)), basename(whole));
}

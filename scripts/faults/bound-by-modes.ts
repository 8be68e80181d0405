import { execFileSync } from "node:child_process";
import { chmod, rm, writeFile } from "node:fs/promises";

/** Capabilities by which root passes over the modes of files (capabilities(7)). */
const PASSING = "-dac_override,-dac_read_search";

/** What stands before a command so that the modes of files hold for it: nothing, but where they do not hold for this user, who is root, `setpriv` of
 *  util-linux, which takes these capabilities away.
 *  @param file  to try it on; it is not there afterwards
 *  @returns null where a file without permissions can be read all the same */
export async function boundByModes(file: string): Promise<readonly string[] | null> {
  await writeFile(file, "");
  await chmod(file, 0);
  try {
    const without = ["setpriv", `--bounding-set=${PASSING}`, `--inh-caps=${PASSING}`];
    for (const prefix of [[], without]) if (isRefused(prefix, file)) return prefix;
    return null;
  } finally {
    await rm(file);
  }
}

function isRefused(prefix: readonly string[], file: string): boolean {
  const runs = (program: string) => {
    try {
      const [name, ...args] = [...prefix, process.execPath, "--eval", program];
      execFileSync(name, args, { stdio: "ignore" });
      return true;
    } catch {
      return false;
    }
  };
  return runs("") && !runs(`require("node:fs").readFileSync(${JSON.stringify(file)})`);
}

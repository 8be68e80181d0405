import { stat } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { CliError } from "./cli-error.js";

/** The ending of folders of results, as `outputFolder` names them. */
const ENDING = "-frontpace";

/** The footage of a result by where results are put: NAME-frontpace beside the take NAME, and those of a batch in FOLDER-frontpace as
 *  its takes are in FOLDER.
 *  @param folder  of the result
 *  @param name  of the take
 *  @throws CliError `option-missing` where it is at none of these places */
export async function footageOf(folder: string, name: string): Promise<string> {
  const own = resolve(folder);
  const places = [join(dirname(own), name)];
  const parts = own.split(sep);
  for (let k = parts.length - 1; k > 0; k--)
    if (parts[k].endsWith(ENDING) && parts[k] !== ENDING) {
      const within = [...parts.slice(0, k), parts[k].slice(0, -ENDING.length), ...parts.slice(k + 1)];
      places.push(join(dirname(within.join(sep)), name));
    }
  for (const place of places) {
    const shown = relative(process.cwd(), place) || ".";
    if (place !== own && (await stat(place).catch(() => null))) return shown;
  }
  throw new CliError(
    "option-missing",
    `the footage ${name} is not beside the folder of the result: add --take, its folder or file (png needs no footage)`,
  );
}

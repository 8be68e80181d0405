import { dirname, join, resolve } from "node:path";
import { type MeasureOptions, readTakeFile, type TakeFile, takeFileOf } from "@frontpace/take";

/** Keys of take.json that name a file. */
export const FILE_KEYS = ["calibration", "timestamps", "plan"] as const;

/** Values with the uncertainty that belongs to each. */
const WITH_UNCERTAINTY = [
  ["rateHz", "rateUncertaintyHz"],
  ["metresPerPixel", "metresPerPixelUncertainty"],
  ["airTemperatureKelvin", "airTemperatureUncertaintyKelvin"],
  ["distanceMetres", "distanceUncertaintyMetres"],
] as const;

/** Options for a take below a folder: those given are the defaults, every take.json on the way down from the folder goes over what
 *  stands above it, and the one of the take itself, which `measureTake` reads, over all.
 *  @param folder  that was searched
 *  @param name  of the take below it, as `findTakes` gives it
 *  @returns what is inherited, without what the take's own file replaces; names of files as whole paths
 *  @throws TakeError where a take.json on the way is not one */
export async function layeredOptions(
  folder: string,
  name: string,
  defaults: MeasureOptions,
): Promise<MeasureOptions> {
  const steps = name === "." ? [] : name.split("/");
  let options = filesResolved(defaults, process.cwd());
  for (let depth = 0; depth < steps.length; depth++) {
    const above = join(folder, ...steps.slice(0, depth));
    const file = await readTakeFile(above);
    if (file) options = { ...replacedBy(options, file), ...filesResolved(optionsOf(file), above) };
  }
  const take = join(folder, ...steps);
  const own = await readTakeFile(take);
  if (!own) return options;
  const kept = replacedBy(options, own);
  // An uncertainty that a take states of a value from above belongs to that value.
  const stated = WITH_UNCERTAINTY.filter(
    ([value, uncertainty]) => kept[value] !== undefined && own[uncertainty] !== undefined,
  );
  return { ...kept, ...Object.fromEntries(stated.map(([, uncertainty]) => [uncertainty, own[uncertainty]])) };
}

/** Whole paths of the files that a take uses beside its frames, by the key that names them. */
export async function filesOfTake(take: string, inherited: MeasureOptions): Promise<TakeReferences> {
  const own: Partial<TakeFile> = (await readTakeFile(take)) ?? {};
  const beside = dirname(await takeFileOf(take));
  const references: Partial<Record<(typeof FILE_KEYS)[number], string>> = {};
  for (const key of FILE_KEYS) {
    const named = inherited[key] ?? own[key];
    if (named !== undefined) references[key] = resolve(beside, named);
  }
  return references;
}

export type TakeReferences = Readonly<Partial<Record<(typeof FILE_KEYS)[number], string>>>;

/** What is left of options where a nearer take.json states others: a value takes its uncertainty with it, a rate the table of times that stands
 *  in place of one, and a scale the calibration that it stands in place of, or the other way round. */
function replacedBy(options: MeasureOptions, nearer: TakeFile): MeasureOptions {
  const gone = new Set<string>(Object.keys(nearer));
  if (gone.has("rateHz")) gone.add("timestamps");
  if (gone.has("metresPerPixel"))
    for (const key of ["calibration", "sensorOffset", "binning", "medium"]) gone.add(key);
  if ("calibration" in nearer) gone.add("metresPerPixel");
  for (const [value, uncertainty] of WITH_UNCERTAINTY) if (gone.has(value)) gone.add(uncertainty);
  return Object.fromEntries(Object.entries(options).filter(([key]) => !gone.has(key)));
}

function optionsOf({
  format: _,
  version: __,
  notes: ___,
  copiedFrom: ____,
  ...options
}: TakeFile): MeasureOptions {
  return options;
}

function filesResolved(options: MeasureOptions, from: string): MeasureOptions {
  const named = FILE_KEYS.filter((key) => options[key] !== undefined);
  return { ...options, ...Object.fromEntries(named.map((key) => [key, resolve(from, options[key]!)])) };
}

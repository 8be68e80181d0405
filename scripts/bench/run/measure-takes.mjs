// Measures the takes below a folder one after another in this process, frames read ahead, without pictures, and writes their files.
//
//   node measure-takes.mjs FOLDER OUT
//
// Prints the speeds, px a frame, as JSON. Uses the packages as built.
import { join } from "node:path";
import { findTakes, measureToFiles } from "@frontpace/batch";
import { writeOutputs } from "@frontpace/take";

const [folder, out] = process.argv.slice(2);
const speeds = [];
for (const { name } of await findTakes(folder)) {
  const options = { rateHz: 1, metresPerPixel: 1 };
  const { result, files, stale } = await measureToFiles(join(folder, name), options, {
    pictures: false,
    report: false,
  });
  await writeOutputs(join(out, name), files, { stale });
  speeds.push(result.speed?.value ?? null);
}
console.log(JSON.stringify(speeds));

// Loads what `frontpace measure` loads, reads the frames of a take, averages a band of rows in each, and does nothing else.
//
//   node read-alone.js TAKE TOP:ROWS [--raw LAYOUT] [--frames FIRST..LAST] [--passes N]
//
// Bundled as the command is. Prints the sum of all averages, so that nothing is left undone.
import { parseArgs } from "node:util";
import * as measure from "../../../packages/cli/dist/measure/measure-action.js";
import * as program from "../../../packages/cli/dist/run.js";
import { openFrames, parseRawLayout } from "../../../packages/frame-loader/dist/index.js";

if (!measure.measureAction || !program.run) throw new Error("the command is not built: pnpm build");
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    raw: { type: "string" },
    frames: { type: "string" },
    passes: { type: "string", default: "1" },
  },
});
const [take, band] = positionals;
const frames = await openFrames(take, values.raw ? { raw: parseRawLayout(values.raw) } : {});
const [row, rows] = band.split(":").map(Number);
const [first, last] = values.frames?.split("..").map(Number) ?? [0, frames.numbers.length - 1];
const region = { row, column: 0, rows, columns: frames.columns };
const mean = new Float64Array(frames.columns);
let sum = 0;
for (let pass = 0; pass < Number(values.passes); pass++)
  for await (const { frame } of frames.frames({ start: first, end: last + 1 }, region)) {
    mean.fill(0);
    addRows(frame.data, frame.offset, frame.stride, rows, mean);
    for (const value of mean) sum += value / rows;
  }
await frames.close();
console.log(sum);

function addRows(data, offset, [byRow, byColumn], count, sums) {
  for (let r = 0; r < count; r++)
    for (let c = 0, at = offset + r * byRow; c < sums.length; c++, at += byColumn) sums[c] += data[at];
}

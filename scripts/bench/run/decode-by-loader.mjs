// Decodes the stills of a folder with the frame loader and does nothing else.
//
//   node decode-by-loader.mjs FOLDER TOP:ROWS
//
// Uses the package as built. Prints the sum of the first samples, so that nothing is left undone.
import { openFrames } from "@frontpace/frame-loader";

const [folder, band] = process.argv.slice(2);
const [row, rows] = band.split(":").map(Number);
const frames = await openFrames(folder);
let sum = 0;
for await (const { frame } of frames.frames(undefined, { row, column: 0, rows, columns: frames.columns }))
  sum += frame.data[frame.offset];
await frames.close();
console.log(sum);

// Makes the arrival map of a folder of stills and prints the speed of the front, px a frame.
//
//   node map-stills.mjs FOLDER
//
// Uses the packages as built.
import { arrivalMap, straightFront } from "@frontpace/arrival";
import { openFrames } from "@frontpace/frame-loader";

const frames = await openFrames(process.argv[2]);
const map = await arrivalMap(frames);
await frames.close();
console.log(Math.abs(straightFront(map)?.speedPixelsPerFrame.value ?? Number.NaN));

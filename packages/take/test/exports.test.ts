import { expect, it } from "vitest";
import * as take from "../src/index.js";
import * as speedSchema from "../src/schemas/speed-schema.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(take).sort()).toEqual([
    "TakeError",
    "assemblePlan",
    "calibrateStills",
    "checkJsonSchema",
    "checkPlan",
    "checkResult",
    "checkScale",
    "checkTake",
    "checkTakeFile",
    "compareTake",
    "copyFrames",
    "csvText",
    "eachPicture",
    "earlierTake",
    "eventCourse",
    "eventsJsonSchema",
    "findInTake",
    "mapFiles",
    "mapQuantities",
    "measureTake",
    "openFootage",
    "planJsonSchema",
    "prepareCopy",
    "prepareOutput",
    "programVersion",
    "readPlan",
    "readResult",
    "readScale",
    "readTakeFile",
    "readTips",
    "realPath",
    "removeLeftovers",
    "resultJsonSchema",
    "scaleJsonSchema",
    "takeFileOf",
    "takeJsonSchema",
    "tipsCsv",
    "trackCsv",
    "unreadableReason",
    "writeOutputs",
  ]);
});

it("take/speed-schema exports these values and no others", () => {
  expect(Object.keys(speedSchema).sort()).toEqual(["lowerBoundSchema", "speedSchema"]);
});

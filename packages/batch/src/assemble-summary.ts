import { folderOfTake } from "@frontpace/report/words";
import { programVersion } from "@frontpace/take";
import type { z } from "zod";
import { meanOfRepeats, type RepeatedSpeed, type SpeedPart } from "./mean-of-repeats.js";
import { sameEvents } from "./same-event.js";
import type { summarySchema } from "./summary-schema.js";
import type { MeasuredOutcome, SharedSources, TakeOutcome } from "./types.js";

/** summary.json.
 *  @interface */
export type BatchSummary = Readonly<z.infer<typeof summarySchema>>;

type ReportedSpeed = BatchSummary["repeats"][number]["mean"];

/** Lines of a budget that are alike in takes filmed alike: a front read in one way is off in one sense. */
const OF_READING = new Set(["front definition", "model choice"]);
/** Lines that a calibration gives. */
const OF_CALIBRATION = new Set(["event plane against scale plane", "obliquity", "lens", "refraction"]);

/** Puts together what became of the takes, and the means of those that stand in one folder: the measured takes of a folder are read as repeats of
 *  one event. No clock time and no place: the same outcomes give the same summary. */
export function assembleSummary(outcomes: readonly TakeOutcome[]): BatchSummary {
  const groups = groupsOf(outcomes);
  const twice = new Map(groups.flatMap((members) => [...sameEvents(members)]));
  const takes = outcomes.map((outcome) => rowOf(outcome, twice.get(outcome.name) ?? null));
  const count = (status: string) => takes.filter((take) => take.status === status).length;
  return {
    format: "frontpace-summary",
    version: 1,
    program: { name: "frontpace", version: programVersion },
    counts: {
      takes: takes.length,
      measured: count("measured"),
      bounded: count("bounded"),
      notFound: count("not-found"),
      failed: count("failed"),
    },
    takes,
    repeats: groups.flatMap((members) => repeatsOf(members.filter(({ name }) => !twice.has(name)))),
  };
}

function rowOf(
  { name, result, error }: TakeOutcome,
  sameEventAs: string | null,
): BatchSummary["takes"][number] {
  const { speed, lowerBound } = result ?? {};
  return {
    take: name,
    status: result?.status ?? "failed",
    result: result ? `${name === "." ? "" : `${name}/`}result.json` : null,
    measurand: result?.measurand ?? null,
    speed: speed ? speedOf(speed) : null,
    lowerBound: lowerBound
      ? {
          value: lowerBound.value,
          confidence: lowerBound.confidence,
          complete: lowerBound.complete,
          missing: [...lowerBound.missing],
        }
      : null,
    notFound: result?.notFound ?? null,
    error,
    warnings: (result?.warnings ?? []).map(({ code, message }) => ({ code, message })),
    framesHash: result?.framesHash ?? null,
    sameEventAs,
  };
}

function speedOf(speed: ReportedSpeed): ReportedSpeed {
  const { value, standardUncertainty, expandedUncertainty, coverageFactor } = speed;
  const { coverageProbability, degreesOfFreedom, complete, missing } = speed;
  return {
    value,
    standardUncertainty,
    expandedUncertainty,
    coverageFactor,
    coverageProbability,
    degreesOfFreedom,
    complete,
    missing: [...missing],
  };
}

/** The measured takes of each folder that measured the same. */
function groupsOf(outcomes: readonly TakeOutcome[]): MeasuredOutcome[][] {
  const groups = new Map<string, MeasuredOutcome[]>();
  for (const outcome of outcomes) {
    if (!outcome.result?.speed) continue;
    const key = JSON.stringify([folderOfTake(outcome.name), outcome.result.measurand]);
    groups.set(key, [...(groups.get(key) ?? []), outcome]);
  }
  return [...groups.values()];
}

/** The mean of such takes, where they are several. */
function repeatsOf(members: readonly MeasuredOutcome[]): BatchSummary["repeats"] {
  if (members.length < 2) return [];
  const [
    {
      name: first,
      result: { measurand },
    },
  ] = members;
  const { shared, chance, disagreeing, ...found } = meanOfRepeats(members.map(repeatedSpeed));
  const missing = (["rate", "scale"] as const).filter((input) =>
    members.some(({ result }) => result.speed?.missing.includes(input)),
  );
  return [
    {
      folder: folderOfTake(first),
      measurand: measurand!,
      takes: members.map(({ name }) => name),
      mean: speedOf({ ...found, complete: missing.length === 0, missing }),
      ownUncertainties: [...found.ownUncertainties],
      withinTakeStandardDeviation: found.withinTakeStandardDeviation,
      betweenTakeStandardDeviation: found.betweenTakeStandardDeviation,
      intermediatePrecision: found.intermediatePrecision,
      shared: [...shared],
      chance,
      disagreeing: [...disagreeing],
    },
  ];
}

function repeatedSpeed({ name, result, shared }: MeasuredOutcome): RepeatedSpeed {
  const { value, budget } = result.speed!;
  const parts = budget.map(({ source, standardUncertainty, degreesOfFreedom }): SpeedPart => {
    return { source, standardUncertainty, degreesOfFreedom, sharedAs: sharedAs(source, shared) };
  });
  return { name, value, parts };
}

function sharedAs(source: string, { scale, rate }: SharedSources): string | null {
  if (/^scale\b/.test(source) || OF_CALIBRATION.has(source)) return `scale ${scale}`;
  if (/^rate\b/.test(source)) return `rate ${rate}`;
  return OF_READING.has(source) ? "reading" : null;
}

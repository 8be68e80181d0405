import { join } from "node:path";
import { randomFrom } from "../../random.js";
import type { Check, Row } from "../row.js";
import { findCommand } from "../run/contestants.js";
import { timedRun } from "../run/timed.js";
import { type Leaves, type LongTake, writeLongRaw } from "../take/write-long-raw.js";

const FRAMES = 4_000_000;
const EVENT = 145;
const MOST_READ = 5000;
const MOST_MEMORY = 300;
/** A sparse file holds dark frames alone for nothing. What leaves light is stored to the end of the take, and drawn among the
 *  last so many frames; what leaves darkness is stored from the beginning, and drawn among the first. Only what leaves
 *  nothing is drawn anywhere. */
const STORED = 2000;

/** An event in four million frames: what `find` reads, names and holds in memory. The place is another in every run. */
export const longTake: Row = {
  name: "find",
  title: `find in ${FRAMES.toLocaleString("en")} frames of 1280 x 72, 8 bit, raw, an event of ${EVENT} frames, --shortest ${EVENT}`,
  async run({ folder }): Promise<Check[]> {
    const random = randomFrom(Date.now());
    const checks: Check[] = [];
    const last = FRAMES - 2 * EVENT;
    const places: Readonly<Record<Leaves, readonly [number, number]>> = {
      light: [FRAMES - STORED, last],
      darkness: [EVENT, STORED],
      nothing: [EVENT, last],
    };
    for (const leaves of ["light", "darkness", "nothing"] as const) {
      const from = random.integer(...places[leaves]);
      const take = { frames: FRAMES, rows: 72, columns: 1280, from, event: EVENT, leaves };
      checks.push(...(await look(folder, take)));
    }
    return checks;
  },
};

async function look(folder: string, take: LongTake): Promise<Check[]> {
  const { leaves, from, event, rows, columns } = take;
  const kind = leaves === "nothing" ? "passes" : "stays";
  const name = `${kind}, leaves ${leaves}`;
  const file = await writeLongRaw(join(folder, `${leaves}.raw`), take);
  const out = join(folder, `${leaves}-out`);
  const find = findCommand(file, `${columns}x${rows}:u8`, event, out);
  const { seconds, peakBytes, output } = await timedRun(find);
  const { framesRead, events } = JSON.parse(output) as FoundEvents;
  const named = events.flatMap(({ firstFrame, lastFrame }) => [firstFrame, lastFrame]);
  const off = Math.max(Math.abs(named[0] - from), Math.abs(named[1] - (from + event - 1)));
  const seen = events.map((one) => `${one.kind} ${one.firstFrame} to ${one.lastFrame}`).join(", ") || "none";
  const checks: Check[] = [
    {
      what: `${name}: frames by which the ends are off`,
      value: events.length === 1 && events[0].kind === kind ? off : Number.POSITIVE_INFINITY,
      bar: { below: 1, unit: "frames" },
      note: `true ${from} to ${from + event - 1}; found ${seen}; ${framesRead} frames read, ${seconds.toFixed(1)} s`,
    },
    {
      what: `${name}: peak memory`,
      value: peakBytes === null ? null : peakBytes / 1e6,
      bar: { below: MOST_MEMORY, unit: "MB" },
      note: peakBytes === null ? "not reported" : "of the whole process",
    },
  ];
  if (kind === "stays")
    checks.push({
      what: `${name}: frames read`,
      value: framesRead,
      bar: { below: MOST_READ, unit: "frames" },
      note: `of ${take.frames.toLocaleString("en")}`,
    });
  return checks;
}

interface FoundEvents {
  readonly framesRead: number;
  readonly events: readonly {
    readonly firstFrame: number;
    readonly lastFrame: number;
    readonly kind: "stays" | "passes";
  }[];
}

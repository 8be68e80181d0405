import { twoDigits, withUnit } from "@frontpace/report/words";
import type { TakeEvent, TakeSearch } from "@frontpace/take";
import { alignColumns } from "../terminal/align-columns.js";
import { wrapText } from "../terminal/wrap-text.js";

/** Characters in a line of running text. */
const LINE_WIDTH = 100;

/** That of a result in the words of a search, which has no number and no pictures of the event. */
const CAUTION =
  "Not for legal or safety certification: look at the frames before you rely on what was found.";

/** What was found, as lines for a person.
 *  @param files  paths written, as they are to be shown
 *  @param quiet  no caution at the end */
export function describeSearch(search: TakeSearch, files: readonly string[], quiet = false): string {
  const { take, events } = search;
  const { name, columns, rows, bitDepth, firstFrame, lastFrame } = take;
  const lines = [
    `looked at: ${name}, ${events.frames} ${events.frames === 1 ? "frame" : "frames"} of ${columns} x ${rows} px, ${bitDepth} bit, numbers ${firstFrame} to ${lastFrame}; ${events.framesRead} of them read`,
    ...(events.notFound
      ? wrapText(`events: none found: ${events.notFound.message}`, LINE_WIDTH, "  ")
      : [...describeEvents(search), ...lightLines(search), ...missed(search)]),
    ...writtenLines(search),
    "",
    "written:",
    ...files.map((file) => `  ${file}`),
    ...(quiet ? [] : ["", CAUTION]),
  ];
  return `${lines.join("\n")}\n`;
}

function describeEvents({ take, events }: TakeSearch): string[] {
  const { rateHz, frameStep } = take;
  const step = frameStep ?? 1;
  const rows = events.events.map((event, i) => [
    String(i + 1),
    `${event.firstFrame} to ${event.lastFrame}`,
    ...(rateHz === null ? [] : [startText(event, rateHz)]),
    lengthText(event, step, rateHz),
    event.kind,
    twoDigits(event.strength),
    event.certainty ? STAGES[event.certainty].word : "-",
  ]);
  const head = [
    "",
    "frames",
    ...(rateHz === null ? [] : ["from frame 0"]),
    "lasting",
    "kind",
    "strength",
    "ends told",
  ];
  const stages = new Set(events.events.map(({ certainty }) => certainty ?? "refined"));
  return [
    "events, strongest first (strength: change of the whole picture in noise levels of one frame):",
    ...alignColumns([head, ...rows]).map((line) => `  ${line}`),
    ...[...stages].flatMap((stage) => {
      const { word, meaning } = STAGES[stage];
      return meaning === null ? [] : wrapText(`${word}: ${meaning}`, LINE_WIDTH, "  ");
    }),
  ];
}

/** At what stage of the search the ends of an event are certain. */
const STAGES = {
  refined: { word: "to the frame", meaning: null },
  visible: {
    word: "where seen",
    meaning:
      "single frames show both ends, but one of them hardly above the noise, or within ten frames of a change of the light or an end of the take: it may be some frames off",
  },
  bisected: {
    word: "by halving",
    meaning:
      "single frames do not show the ends clearly (the change is weak, or something else moves): the frames named are where it is half way, look some frames farther",
  },
  bracketed: {
    word: "roughly",
    meaning: "the event lies between the two frames named, and may be shorter or reach beyond the take",
  },
} as const;

/** What is no event, but the light. */
function lightLines({ events }: TakeSearch): string[] {
  return (events.lightChanges ?? []).flatMap(({ firstFrame, lastFrame, factor }) => {
    const frames = firstFrame === lastFrame ? `frame ${firstFrame}` : `frames ${firstFrame} to ${lastFrame}`;
    return wrapText(
      `no event: the light changes everywhere at once in ${frames}, to ${(100 * factor).toFixed(0)} % of the brightness before, and stays, as when a lamp is switched`,
      LINE_WIDTH,
      "  ",
    );
  });
}

/** What of the picture was not looked at. */
function writtenLines({ events }: TakeSearch): string[] {
  return (events.written ?? []).flatMap(({ row, column, rows, columns }) =>
    wrapText(
      `left out: ${columns} x ${rows} px from (${column}, ${row}): something changes there all through the take, such as a counter that is written into the frames`,
      LINE_WIDTH,
      "  ",
    ),
  );
}

/** Time of the first frame, to that of one frame. */
function startText({ firstFrame }: TakeEvent, rateHz: number): string {
  return `${(firstFrame / rateHz).toFixed(Math.max(0, Math.ceil(Math.log10(rateHz))))} s`;
}

function lengthText({ firstFrame, lastFrame }: TakeEvent, step: number, rateHz: number | null): string {
  const length = lastFrame - firstFrame + step;
  const frames = Math.round(length / step);
  const time = rateHz === null ? "" : `, ${withUnit(length / rateHz, "s")}`;
  return `${frames} ${frames === 1 ? "frame" : "frames"}${time}`;
}

/** What could be there and was not seen. */
function missed({ take, events }: TakeSearch): string[] {
  if (!events.passingSought)
    return wrapText(
      "not looked for: what leaves nothing behind (a passing shock, dust), since something stays and looking would take many more frames; --thorough looks for it",
      LINE_WIDTH,
      "  ",
    );
  const { shortestFrames } = events;
  if (shortestFrames === 1) return [];
  const { rateHz, frameStep } = take;
  const time = rateHz === null ? "" : ` (${withUnit((shortestFrames * (frameStep ?? 1)) / rateHz, "s")})`;
  return wrapText(
    `may have been missed: what leaves nothing behind and lasts less than ${shortestFrames} frames${time}; --shortest takes fewer`,
    LINE_WIDTH,
    "  ",
  );
}

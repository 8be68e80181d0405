import type { RecordingMode } from "./mode-types.js";
import { PlannerError } from "./planner-error.js";

const REQUIRED = ["columns", "rows", "max_rate"] as const;
const OPTIONAL = ["bits", "min_exposure"] as const;
type Column = (typeof REQUIRED)[number] | (typeof OPTIONAL)[number];

const RULES: Readonly<Record<Column, string>> = {
  columns: "a whole number >= 1, px",
  rows: "a whole number >= 1, px",
  max_rate: "a number > 0, frames per second",
  bits: "a whole number from 1 to 32, or empty",
  min_exposure: "a number > 0, seconds, without a unit, or empty",
};

const HEADER = "columns,rows,max_rate[,bits][,min_exposure]";
const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** Reads the recording modes of a camera: comma-separated, the first line a header with `columns` and `rows` (px), `max_rate`
 *  (frames per second) and perhaps `bits` (of a sample in memory) and `min_exposure` (seconds), in any order. Empty lines
 *  and lines that begin with # are passed over.
 *  @param where  the file, as messages name it
 *  @returns in the order of the file, at least one
 *  @throws PlannerError `header-missing`, `unknown-column`, `missing-column`, `repeated-column`, `invalid-row`, `repeated-mode`,
 *    `modes-empty` */
export function readModes(text: string, where = "modes"): RecordingMode[] {
  const lines = text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\n|\r/)
    .map((line, k) => ({ number: k + 1, cells: line.split(",").map((cell) => cell.trim()), line }))
    .filter(({ line }) => line.trim() !== "" && !line.trimStart().startsWith("#"));
  if (lines.length === 0)
    throw new PlannerError(
      "modes-empty",
      `${where} holds no modes: give a header ${HEADER} and one line a mode`,
      {
        file: where,
      },
    );
  if (/[\0\uFFFD]/.test(text))
    throw new PlannerError(
      "header-missing",
      `${where} is no text: give a list of modes, its header ${HEADER}`,
      {
        file: where,
      },
    );
  const columns = readHeader(lines[0].cells, `${where}, line ${lines[0].number}`, where);
  const modes = lines
    .slice(1)
    .map(({ cells, number }) => readMode(cells, columns, `${where}, line ${number}`, where));
  if (modes.length === 0)
    throw new PlannerError("modes-empty", `${where} holds a header and no modes: add one line a mode`, {
      file: where,
    });
  refuseRepeated(modes, where);
  return modes;
}

function readHeader(cells: readonly string[], place: string, file: string): Column[] {
  if (cells.every((cell) => cell === "" || decimal.test(cell)))
    throw new PlannerError(
      "header-missing",
      `${place}: the header is missing, got "${cells.join(",")}": the first line must name the columns, ${HEADER}`,
      { file },
    );
  const known: readonly string[] = [...REQUIRED, ...OPTIONAL];
  const unknown = cells.find((cell) => !known.includes(cell));
  if (unknown !== undefined)
    throw new PlannerError(
      "unknown-column",
      `${place}: unknown column "${unknown}"; known are ${known.join(", ")}: ${/[;\t]/.test(unknown) ? "put commas between the columns" : "rename it, or take it out"}`,
      { file, value: unknown },
    );
  const missing = REQUIRED.find((name) => !cells.includes(name));
  if (missing)
    throw new PlannerError(
      "missing-column",
      `${place}: the column ${missing} is missing: the header is ${HEADER}`,
      {
        file,
        value: missing,
      },
    );
  const repeated = cells.find((cell, k) => cells.indexOf(cell) !== k);
  if (repeated !== undefined)
    throw new PlannerError(
      "repeated-column",
      `${place}: the column ${repeated} stands there twice: keep one`,
      {
        file,
        value: repeated,
      },
    );
  return cells as Column[];
}

function readMode(
  cells: readonly string[],
  columns: readonly Column[],
  place: string,
  file: string,
): RecordingMode {
  if (cells.length !== columns.length)
    throw new PlannerError(
      "invalid-row",
      `${place} has ${cells.length} values, and the header names ${columns.length} columns: give one value for each, empty where unknown`,
      { file },
    );
  const read = (name: Column): number | null => {
    const cell = cells[columns.indexOf(name)] ?? "";
    const isOptional = (OPTIONAL as readonly string[]).includes(name);
    if (isOptional && cell === "") return null;
    const value = decimal.test(cell) ? Number(cell) : Number.NaN;
    const whole = name === "columns" || name === "rows" || name === "bits";
    const fits = value > 0 && Number.isFinite(value) && (!whole || Number.isSafeInteger(value));
    if (!fits || (name === "bits" && value > 32))
      throw new PlannerError("invalid-row", `${place}: ${name} must be ${RULES[name]}, got "${cell}"`, {
        file,
        key: name,
        value: cell,
      });
    return value;
  };
  return {
    columns: read("columns")!,
    rows: read("rows")!,
    rateHz: read("max_rate")!,
    bits: read("bits"),
    minExposureSeconds: read("min_exposure"),
    interpolation: null,
  };
}

function refuseRepeated(modes: readonly RecordingMode[], file: string): void {
  const seen = new Set<string>();
  for (const { columns, rows, bits } of modes) {
    const name = `${columns} x ${rows} px${bits === null ? "" : `, ${bits} bits`}`;
    if (seen.has(name))
      throw new PlannerError(
        "repeated-mode",
        `${file} lists ${name} twice: keep the one that the camera has`,
        { file },
      );
    seen.add(name);
  }
}

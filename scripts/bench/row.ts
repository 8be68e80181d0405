/** One line of the table: a figure and what it must be. */
export interface Check {
  readonly what: string;
  /** The figure, in what `unit` names; null where it could not be had. */
  readonly value: number | null;
  /** `floor`: none, the figure says how much of a bar can be reached. */
  readonly bar: Bar | "floor";
  /** What was seen beside the figure, or why there is none. */
  readonly note: string;
}

export type Bar =
  | { readonly atLeast: number; readonly unit: Unit }
  | { readonly below: number; readonly unit: Unit };
type Unit = "times" | "MB" | "frames";

/** What the rows have to work with. */
export interface Bench {
  /** Empty folder for the row's data. */
  readonly folder: string;
  readonly rounds: number;
  /** Whether the script of general-purpose libraries can run. */
  readonly hasGeneralPurpose: boolean;
}

/** A kind of take, and what is compared on it. */
export interface Row {
  /** As `--only` calls it. */
  readonly name: string;
  readonly title: string;
  run(bench: Bench): Promise<readonly Check[]>;
}

/** Whether a figure holds its bar; null where there is none. */
export function holds({ value, bar }: Check): boolean | null {
  if (value === null || bar === "floor") return null;
  return "atLeast" in bar ? value >= bar.atLeast : value < bar.below;
}

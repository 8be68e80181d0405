import type { BatchContext, TakeOutcome } from "@frontpace/batch";
import { inOneLine } from "../terminal/in-one-line.js";
import type { RunContext } from "../terminal/io.js";
import { progressLine } from "../terminal/progress-line.js";

export interface BatchProgress {
  readonly context: Pick<BatchContext, "onFound" | "onProgress" | "onOutcome">;
  /** Takes the bar away. */
  clear(): void;
}

/** ms between two lines of how far a batch is, where that is no terminal. */
const BETWEEN_LINES = 30_000;

/** A line on standard output for each take as it is done, and on a terminal a bar for all of them, with what is being done to the take that
 *  last said so; elsewhere now and then a line on standard error of how far it is. Takes are done in any order; the files and the summary do not depend on it.
 *  @param quiet  without lines: they would stand before the JSON */
export function batchProgress(context: RunContext, quiet: boolean): BatchProgress {
  const bar = progressLine(context);
  const width = { names: 0 };
  let [done, total, started, measured, said] = [0, 0, 0, 0, 0];
  let doing = "";
  const draw = () => bar.update({ stage: "takes", done, total, besides: `${throughput()}${doing}` });
  return {
    context: {
      onFound(names) {
        [done, measured, doing] = [0, 0, ""];
        total = names.length;
        started = said = performance.now();
        width.names = Math.max(0, ...names.map((name) => inOneLine(name).length));
        draw();
      },
      onProgress(name, { stage, done: part, total: whole }) {
        doing = `; ${inOneLine(name)}: ${stage} ${part}/${whole}`;
        draw();
      },
      onOutcome(outcome) {
        const name = inOneLine(outcome.name);
        done++;
        if (outcome.isNew) measured++;
        if (doing.startsWith(`; ${name}: `)) doing = "";
        bar.clear();
        if (!quiet) context.stdout.write(`${name.padEnd(width.names)}  ${textOf(outcome)}\n`);
        if (done < total) draw();
        if (!context.stderr.isTTY && done < total && performance.now() - said >= BETWEEN_LINES) {
          said = performance.now();
          context.stderr.write(`${done} of ${total} takes done${throughput()}\n`);
        }
      },
    },
    clear: bar.clear,
  };

  /** Of takes that were measured: those found measured before take no time. */
  function throughput(): string {
    if (measured === 0) return "";
    const perTake = (performance.now() - started) / measured;
    const left = (perTake * (total - done)) / 1000;
    const time = left < 90 ? `${Math.ceil(left)} s` : `${Math.ceil(left / 60)} min`;
    return `, ${Number((60_000 / perTake).toPrecision(2))} a minute, ${time} left`;
  }
}

function textOf(outcome: TakeOutcome): string {
  if (outcome.error) return `failed: ${inOneLine(outcome.error.message)}`;
  const { text, warnings } = outcome.result;
  const warned = warnings.length === 0 ? "" : ` (${warnings.map(({ code }) => code).join(", ")})`;
  return `${text}${warned}${outcome.isNew ? "" : ", as before"}`;
}

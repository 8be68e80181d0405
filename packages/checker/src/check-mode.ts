import { timeText } from "./digits.js";
import type { CheckLine, ModeFacts } from "./types.js";

const NAMES: Readonly<Record<string, readonly [name: string, unit: string]>> = {
  columns: ["columns", "px"],
  rows: ["rows", "px"],
  rateHz: ["rate", "frames/s"],
  exposureSeconds: ["exposure", "s"],
};

/** The mode that was set against that of the plan. */
export function checkMode({ settings }: ModeFacts): CheckLine {
  const text = (quantity: string, value: number) =>
    quantity === "exposureSeconds"
      ? timeText(value)
      : `${Number(value.toPrecision(6))} ${NAMES[quantity]?.[1] ?? ""}`.trim();
  const nameOf = (quantity: string) => NAMES[quantity]?.[0] ?? quantity;
  const other = settings.filter(({ observed, agrees }) => observed !== null && !agrees);
  const unknown = settings
    .filter(({ observed }) => observed === null)
    .map(({ quantity }) => nameOf(quantity));
  const values = Object.fromEntries(settings.map(({ quantity, observed }) => [quantity, observed]));
  const untold = unknown.length > 0 ? `; not stated in the take: ${unknown.join(", ")}` : "";
  if (other.length > 0)
    return {
      check: "mode",
      verdict: "warn",
      message: `other than planned: ${other.map(({ quantity, planned, observed }) => `${nameOf(quantity)} ${text(quantity, observed!)}, planned ${text(quantity, planned)}`).join("; ")}${untold}`,
      advice: `set ${other.map(({ quantity, planned }) => `${nameOf(quantity)} ${text(quantity, planned)}`).join(", ")}, or plan with what was set`,
      values,
    };
  const agreeing = settings
    .filter(({ agrees }) => agrees)
    .map(({ quantity, planned }) => `${nameOf(quantity)} ${text(quantity, planned)}`);
  return {
    check: "mode",
    verdict: unknown.length > 0 ? "warn" : "pass",
    message: `as planned: ${agreeing.join(", ")}${untold}`,
    advice:
      unknown.length > 0
        ? `state them (--rate, --exposure or take.json), so that they can be held against the plan`
        : null,
    values,
  };
}

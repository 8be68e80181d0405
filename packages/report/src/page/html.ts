import { escapeXml } from "../drawing/svg.js";

/** Text that is markup already. */
export interface Markup {
  readonly markup: string;
}

type Content = Markup | string | number | null | undefined | false | readonly Content[];

/** A piece of a page. Every value that is not markup itself is escaped; lists are joined, nothing stands for null, undefined and false. */
export function html(parts: TemplateStringsArray, ...values: readonly Content[]): Markup {
  let markup = parts[0];
  values.forEach((value, k) => {
    markup += markupOf(value) + parts[k + 1];
  });
  return { markup };
}

/** Text of this program taken as markup: nothing from outside may go in here. */
export function raw(markup: string): Markup {
  return { markup };
}

function markupOf(value: Content): string {
  if (value === null || value === undefined || value === false) return "";
  if (typeof value === "string") return escapeXml(value);
  if (typeof value === "number") return String(value);
  if ("markup" in value) return value.markup;
  return value.map(markupOf).join("");
}

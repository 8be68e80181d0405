import { html, type Markup } from "./html.js";

/** A quantity as a person reads it, with its value in the SI unit in the markup. */
export function amount(value: number, text: string): Markup {
  return html`<data value="${value}">${text}</data>`;
}

import { html, type Markup } from "./html.js";

/** A part of the page under a heading of its own. */
export function section(id: string, heading: string, ...content: readonly (Markup | null | false)[]): Markup {
  return html`<section id="${id}" aria-labelledby="${id}-heading"><h2 id="${id}-heading">${heading}</h2>${content}</section>`;
}

/** Something to look at, and what there is to see. */
export function figure(content: Markup, caption: Markup | string, kind = ""): Markup {
  return html`<figure class="${kind}">${content}<figcaption>${caption}</figcaption></figure>`;
}

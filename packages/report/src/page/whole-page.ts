import { createHash } from "node:crypto";
import { html, type Markup, raw } from "./html.js";
import { pageStyle } from "./style.js";

/** What a page is made of. */
interface PageParts {
  readonly title: string;
  readonly heading: Markup;
  readonly sections: readonly (Markup | null | undefined | false)[];
  /** Rules beside those of all pages. Default: none. */
  readonly style?: string;
  /** The one script that may run, named by its digest. Default: none runs. */
  readonly script?: string;
}

/** An HTML document that holds all it needs: nothing is loaded, and nothing runs but the script that is given, whatever stands in the page. */
export function wholePage({ title, heading, sections, style = "", script }: PageParts): string {
  const digest = script && createHash("sha256").update(script).digest("base64");
  const mayRun = digest ? ` script-src 'sha256-${digest}';` : "";
  const policy = `default-src 'none'; img-src data:; style-src 'unsafe-inline';${mayRun} base-uri 'none'; form-action 'none'`;
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>${raw(pageStyle + style)}</style>
</head>
<body>
<main>
<header>${heading}</header>
${sections}
</main>
${
  script &&
  html`<script>${raw(script)}</script>
`
}</body>
</html>
`.markup;
}

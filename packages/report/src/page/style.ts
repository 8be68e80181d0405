/** The look of the page: one column, figures before words, light and dark, A4 and Letter. */
export const pageStyle = `
:root {
  color-scheme: light dark;
  --paper: #fdfdfb; --ink: #17191c; --soft: #555b63; --line: #d5d7d6; --accent: #0b5c86;
  --band: #0b5c8633; --alert: #a3322c; --tint: #f1f2ef;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #15181b; --ink: #e9eae7; --soft: #a9b0b7; --line: #3a4046; --accent: #74c0e8;
    --band: #74c0e83d; --alert: #ff9a8d; --tint: #1f2428;
  }
}
* { box-sizing: border-box; }
body {
  margin: 0; background: var(--paper); color: var(--ink);
  font: 1.0625rem/1.55 system-ui, "Segoe UI", Helvetica, Arial, sans-serif;
  overflow-wrap: break-word;
}
main { max-width: 58rem; margin: 0 auto; padding: clamp(1.25rem, 4vw, 3.5rem) clamp(1rem, 4vw, 2.5rem); }
header { padding-bottom: 2rem; border-bottom: 3px solid var(--ink); }
.take { margin: 0; color: var(--soft); }
h1 { margin: .3em 0 .5em; font-size: clamp(1.6rem, 1.1rem + 2.4vw, 2.6rem); line-height: 1.2; font-weight: 400; text-wrap: balance; }
h1 strong { font-weight: 700; display: block; font-size: clamp(1.7rem, 1rem + 4.2vw, 3.6rem); font-variant-numeric: tabular-nums; letter-spacing: -.01em; }
h2 { margin: 0 0 1rem; font-size: 1.3rem; line-height: 1.3; font-weight: 650; }
h3 { margin: 1.75rem 0 .5rem; font-size: 1.05rem; }
section { padding: 2rem 0 .5rem; border-top: 1px solid var(--line); margin-top: 1.75rem; }
header + section { border-top: 0; margin-top: 0; }
p { margin: 0 0 .75rem; }
.lead { font-size: 1.2rem; max-width: 46rem; }
.note { margin-top: 1.25rem; padding-left: .9rem; border-left: 4px solid var(--alert); }
.small, figcaption { font-size: .94rem; color: var(--soft); max-width: 50rem; }
a { color: var(--accent); }
a:focus-visible, .scroll:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
ul, ol { padding-left: 1.3rem; } li { margin: .3rem 0; }
code { font: .88em ui-monospace, Consolas, monospace; overflow-wrap: anywhere; }
figure { margin: 0 0 1rem; } figcaption { margin-top: .6rem; }
figure b { color: var(--ink); }
svg { display: block; max-width: 100%; height: auto; }
.definitions { position: absolute; }
.narrow { display: none; }
.frames { display: grid; gap: 1.25rem; }
.frames.columns { grid-template-columns: repeat(auto-fit, minmax(min(100%, 13rem), 1fr)); }
.still { width: 100%; max-height: 34rem; }
.still image, use { image-rendering: pixelated; }
.still path { fill: none; vector-effect: non-scaling-stroke; }
.still .rim { stroke: #000; stroke-width: 5; stroke-opacity: .65; }
.still .path { stroke: #fff; stroke-width: 1.7; stroke-dasharray: 3 5; }
.still .path.rim { stroke: #000; stroke-width: 3.5; stroke-dasharray: none; stroke-opacity: .65; }
.still .front { stroke: #ffb000; stroke-width: 2.5; }
.still .number { fill: #fff; stroke: #000; stroke-width: .2em; paint-order: stroke; font-weight: 700; }
.paper img { display: block; width: 100%; height: auto; background: #fff; }
.scroll { overflow-x: auto; }
.key { display: inline-block; width: 1.6em; height: .8em; vertical-align: -.05em; border-radius: 2px; background: #777; position: relative; }
.key::after { content: ""; position: absolute; inset: 0; margin: auto; }
.key.line::after { height: 0; border-top: 2px dashed #ffb000; }
.key.found::after { width: .5em; height: .5em; border: 2px solid #4fd8ff; border-radius: 50%; }
.key.rejected::after { width: .6em; height: 2px; background: #ff6ab0; rotate: 45deg; }
table { border-collapse: collapse; width: 100%; font-size: .97rem; font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: .4rem .9rem .4rem 0; border-bottom: 1px solid var(--line); font-weight: 400; }
thead th { color: var(--soft); font-size: .88rem; } tfoot th, tfoot td { font-weight: 650; border-bottom: 0; }
.number { text-align: right; white-space: nowrap; }
.verdict { white-space: nowrap; }
.broken th, .broken td { color: var(--alert); }
.pairs { margin: 0; } .pairs > div { display: grid; grid-template-columns: 13rem minmax(0, 1fr); gap: .2rem 1.5rem; padding: .45rem 0; border-bottom: 1px solid var(--line); }
.pairs dt { color: var(--soft); } .pairs dd { margin: 0; } .pairs dd p { margin: 0 0 .2rem; }
.warnings { list-style: none; padding: 0; } .warnings li { margin: 0 0 1rem; padding-left: .9rem; border-left: 4px solid var(--alert); }
.warnings code { display: block; color: var(--soft); }
.answers { font-size: 1.1rem; font-variant-numeric: tabular-nums; }
@media (max-width: 43rem) {
  .wide { display: none; } .narrow { display: block; }
  .pairs > div { grid-template-columns: minmax(0, 1fr); }
  .paper img { width: 40rem; max-width: none; }
  th, td { padding-right: .7rem; }
}
@page { margin: 16mm 15mm; }
@media print {
  :root { --paper: #fff; --ink: #000; --soft: #444; --line: #bbb; --accent: #0b5c86; --band: #0b5c8633; --alert: #8c231e; color-scheme: light; }
  body { font-size: 10.5pt; } main { max-width: none; padding: 0; }
  .wide { display: block; } .narrow { display: none; }
  figure, table, tr, .pairs > div, .warnings li, li, #limits { break-inside: avoid; } h2, h3 { break-after: avoid; }
  header { padding-bottom: 1rem; } section { padding-top: 1.1rem; margin-top: 1rem; } h1 { margin: .1em 0 .3em; }
  .frames { gap: .6rem; } .frames.columns { grid-template-columns: repeat(3, 1fr); } .frames figure { margin: 0; }
  .still { max-height: 75mm; } .wide svg { max-height: 92mm; }
  .paper img { width: auto; max-width: 100%; max-height: 165mm; }
  .key { print-color-adjust: exact; }
  .scroll { overflow: visible; } a { color: inherit; }
}
`;

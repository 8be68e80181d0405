import { caution } from "../words/caution.js";
import type { ReportedResult } from "../words/reported-result.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";

/** How far the page may be relied on and passed on. */
export function limitsSection({ take: { calibration, timestamps } }: ReportedResult): Markup {
  const standard = calibration
    ? `that of the calibration by ${calibration.method}${calibration.stills ? `, seen in ${calibration.stills.join(", ")}` : ""}`
    : "the scale as it was stated";
  const clock = timestamps ? "the table of times as it was given" : "the recording rate as it was stated";
  return section(
    "limits",
    "How far to rely on it",
    html`<ul>
<li>This is not an accredited calibration. It is traceable only as far as its length standard (${standard}) and its clock (${clock}).</li>
<li>${caution}</li>
<li>People and premises may be visible in the pictures: look at them before you pass this page on.</li>
</ul>`,
  );
}

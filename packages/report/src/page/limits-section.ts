import { caution } from "../words/caution.js";
import type { ReportedResult } from "../words/reported-result.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";

/** How far the page may be relied on and passed on. */
export function limitsSection({ take: { calibration, timestamps } }: ReportedResult): Markup {
  const standard = calibration
    ? `the length standard of its calibration (${calibration.method})`
    : "the scale as it was stated";
  const clock = timestamps
    ? "the clock of the table of times"
    : "the clock of the camera, whose rate was stated";
  return section(
    "limits",
    "How far to rely on it",
    html`<ul>
<li>This is not an accredited calibration. It is traceable only as far as ${standard} and ${clock} are.</li>
<li>${caution}</li>
<li>People and premises may be visible in the pictures: look at them before you pass this page on.</li>
</ul>`,
  );
}

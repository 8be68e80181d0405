import { describeBranches } from "../words/describe-branches.js";
import { describeModel } from "../words/describe-model.js";
import { describeShape } from "../words/describe-shape.js";
import { channelTexts, frontText, lineTexts, tiltTexts } from "../words/front-text.js";
import type { ReportedResult } from "../words/reported-result.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { sentence, typeset } from "./typeset.js";

/** What the front was, how it was followed, and as what else it may be read. */
export function frontSection(result: ReportedResult, surroundings: readonly string[]): Markup | null {
  const { front, speed, model, fronts, alternatives, branches, take } = result;
  const lines = [
    ...(front ? [frontText(front, result), ...channelTexts(front)] : []),
    ...describeShape(result),
    ...describeBranches(result).slice(0, 1),
    ...(model ? describeModel(model) : []),
    ...(front && speed ? tiltTexts(front, speed) : []),
    ...surroundings,
  ];
  const isChosen = front !== null && fronts !== undefined && !branches;
  if (lines.length === 0) return null;
  return section(
    "front",
    "What was followed",
    html`<ul>${lines.map((line) => html`<li>${sentence(line)}</li>`)}</ul>`,
    isChosen && html`<h3>Fronts on the path, of which this is number ${take.front}</h3>${numbered(fronts)}`,
    alternatives !== undefined && html`<h3>It may also be read as</h3>${numbered(alternatives)}`,
  );
}

function numbered(lines: NonNullable<ReportedResult["fronts"]>): Markup {
  return html`<ol>${lineTexts(lines).map((text) => html`<li>${typeset(text)}</li>`)}</ol>`;
}

import { branchText } from "../words/describe-branches.js";
import { intervalText, lineTexts, withoutText } from "../words/front-text.js";
import type { ReportedResult } from "../words/reported-result.js";
import { roundDown, roundPair } from "../words/round.js";
import { threeDigits } from "../words/with-unit.js";
import { html, type Markup } from "./html.js";
import { amount } from "./quantity.js";
import { sentence, typeset } from "./typeset.js";

/** The answer: one line that says it, and the sentences that say how far it goes. */
export function answer(result: ReportedResult): Markup {
  const { headline, sentences, list = [] } = answerOf(result);
  return html`
<p class="take">${result.take.name}</p>
<h1>${headline}</h1>
${sentences.map((text) => html`<p class="lead">${text}</p>`)}
${list.length > 0 && html`<ol class="answers">${list.map((text) => html`<li>${typeset(text)}</li>`)}</ol>`}
${warningsNote(result)}`;
}

interface Answer {
  readonly headline: Markup;
  readonly sentences: readonly string[];
  readonly list?: readonly string[];
}

function answerOf(result: ReportedResult): Answer {
  if (result.speed) return measured(result, result.speed);
  if (result.lowerBound) return bounded(result, result.lowerBound);
  return notFound(result);
}

function measured(
  { take, branches, fronts }: ReportedResult,
  speed: NonNullable<ReportedResult["speed"]>,
): Answer {
  const { value, halfWidth } = roundPair(speed.value, speed.expandedUncertainty);
  const figure = amount(speed.value, `${value}\u00a0±\u00a0${halfWidth} m/s`);
  const among = (branches ?? fronts ?? []).length;
  const which =
    among > 1 ? `Front number ${take.front ?? 1} of the ${among} that were seen ran at` : "The front ran at";
  const range = typeset(intervalText(speed));
  const missing = withoutText(speed.missing).replace(/^, /, "");
  return {
    headline: html`${which} <strong>${figure}</strong>`,
    sentences: speed.complete
      ? [`With 95\u202f% confidence its speed was ${range}.`]
      : [
          `This is a reading only: ${range} is a 95\u202f% interval ${missing}, which was not stated. How far the true speed may lie from it is not known.`,
        ],
  };
}

function bounded({ take }: ReportedResult, bound: NonNullable<ReportedResult["lowerBound"]>): Answer {
  const { value, complete, missing, lastFrameBefore, firstFrameAfter, lengthPixels } = bound;
  const rate = threeDigits(take.rateHz);
  return {
    headline: html`The front ran <strong>at least ${amount(value, `${roundDown(value)}\u00a0m/s`)}</strong>`,
    sentences: [
      `It crossed ${Math.floor(lengthPixels)} px of the path between frames ${lastFrameBefore} and ${firstFrameAfter}: too fast to be followed at ${rate} frames a second. That it ran faster than this is 95\u202f% sure; how much faster, these frames do not tell.`,
      ...(complete ? [] : [`This is a reading only${withoutText(missing)}, which was not stated.`]),
    ],
  };
}

function notFound({ notFound: found, branches, fronts }: ReportedResult): Answer {
  const message = sentence(found?.message ?? "no front was found");
  if (branches && branches.length > 1)
    return {
      headline: html`<strong>No one speed:</strong> ${branches.length} cracks ran, each at its own`,
      sentences: [message],
      list: branches.map(branchText),
    };
  if (fronts && fronts.length > 1)
    return {
      headline: html`<strong>No one speed:</strong> ${fronts.length} fronts ran along the path`,
      sentences: [message],
      list: lineTexts(fronts),
    };
  return { headline: html`<strong>No speed was measured</strong>`, sentences: [message] };
}

function warningsNote({ warnings, notFound: found }: ReportedResult): Markup | null {
  const count = warnings.filter(({ code }) => code !== found?.reason).length;
  if (count === 0) return null;
  const words = count === 1 ? "One warning belongs" : `${count} warnings belong`;
  return html`<p class="note">${words} to this answer: <a href="#warnings">read ${count === 1 ? "it" : "them"} before you use it</a>.</p>`;
}

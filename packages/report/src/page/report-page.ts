import type { ReportedResult } from "../words/reported-result.js";
import { speedText } from "../words/speed-text.js";
import { answer } from "./answer.js";
import { budgetSection } from "./budget-section.js";
import { comparisonSection } from "./comparison-section.js";
import { eventSection } from "./event-section.js";
import { fitSection } from "./fit-section.js";
import { frontSection } from "./front-section.js";
import { limitsSection } from "./limits-section.js";
import type { ReportInput } from "./page-input.js";
import { cracksSection, mapSection, searchSection } from "./picture-sections.js";
import { provenanceSection } from "./provenance-section.js";
import { speedSection } from "./speed-section.js";
import { streakSection } from "./streak-section.js";
import { typeset } from "./typeset.js";
import { warningsSection } from "./warnings-section.js";
import { wholePage } from "./whole-page.js";

/** One self-contained page of a result: the answer, the pictures that prove it, the uncertainty, the warnings, and what it was measured from. It
 *  needs no script and no network. The same result and pictures give the same text.
 *  @param result  content of a result.json
 *  @returns an HTML document
 *  @throws RangeError where a picture is not what its name says */
export async function reportPage(result: ReportedResult, input: ReportInput = {}): Promise<string> {
  const { pictures = {}, files = [], surroundings = [] } = input;
  const title = typeset(`${result.take.name}: ${speedText(result)}`);
  const sections = [
    eventSection(result, pictures),
    cracksSection(result, pictures),
    searchSection(result, pictures),
    frontSection(result, surroundings),
    await streakSection(result, pictures),
    await fitSection(result),
    await speedSection(result),
    mapSection(result, pictures),
    await budgetSection(result),
    comparisonSection(result),
    warningsSection(result),
    provenanceSection(result, files),
    limitsSection(result),
  ];
  return wholePage({ title, heading: answer(result), sections });
}

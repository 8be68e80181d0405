import type { BatchSummary } from "@frontpace/batch";

/** How many takes of a batch became what, in one line. */
export function describeCounts({
  takes,
  measured,
  bounded,
  notFound,
  failed,
}: BatchSummary["counts"]): string {
  return `${takes} ${takes === 1 ? "take" : "takes"}: ${measured} measured, ${bounded} bounded, ${notFound} not found, ${failed} failed`;
}

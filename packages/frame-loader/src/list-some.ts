const SHOWN = 3;

/** The first few of a list, and how many more there are: `a, b, c and 4 more`. */
export function listSome(items: readonly string[]): string {
  const shown = items.slice(0, SHOWN).join(", ");
  return items.length > SHOWN ? `${shown} and ${items.length - SHOWN} more` : shown;
}

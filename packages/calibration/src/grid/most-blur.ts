/** A blur beyond this share of the step between neighbours leaves nothing flat between two edges; dots run so far into
 *  each other that each is no longer known as well as its own fit says. */
export const MOST_BLUR = { corners: 0.3, dots: 0.2 } as const;

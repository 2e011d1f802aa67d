/** What of the reason for a step stands in the chair: one line. The rest stands under Why. */

/** Two lines at the size of the chair's instruction. */
const LENGTH_MAX = 90;
/** A year, a DOI, a page, a paragraph, a standard: what a reader looks up, not what hands need. */
const REFERENCE = /\b(?:19|20)\d\d\b|\bdoi\b|\b10\.\d{4,}|\bp\. ?\d|\bpage\b|§|\bISO\b|\bet al\b/i;

/** The first sentence of the reason, where it is short and cites nothing; otherwise nothing. */
export function whyLine(why: string | undefined): string | null {
  const first = why?.match(/^.+?[.!?](?=\s|$)/)?.[0] ?? why;
  if (first === undefined || first.length > LENGTH_MAX || REFERENCE.test(first)) return null;
  return first;
}

/** Whether a text points to a document. */
export const pointsToDocument = (text: string): boolean => REFERENCE.test(text);

/**
 * A protocol with one press for each subject of each step, as a clinic may set it; any other document as
 * it is. For tests and builds that look at every press by itself.
 */
export function oneByOne<Document>(document: Document): Document {
  if (typeof document !== 'object' || document === null) return document;
  const { lists: _, ...protocol } = document as Document & { lists?: unknown; steps?: unknown };
  if (!Array.isArray(protocol.steps)) return document;
  const steps = protocol.steps.map(({ pressed: __, ...step }) => step);
  return { ...protocol, steps } as Document;
}

/** What a browser is killed in, and what it had acknowledged of it. */
export const WORK_KINDS = ['press', 'confirm', 'export', 'restore', 'delete', 'migrate'] as const;

export type WorkKind = (typeof WORK_KINDS)[number];

/** Something that must be there after the kill: so many entries of a case, a fact, a document, a mark. */
export interface Acknowledged {
  readonly what: 'entries' | 'fact' | 'document' | 'deleted';
  readonly id: string;
  readonly count: number;
}

/**
 * Gathers what a restore did to each protocol revision, lot and case, so that it can be named
 * afterwards. What stays as it was is not told; all other documents are only counted.
 */
import { fieldsOf } from '../../base/json.ts';
import type { StoredDocument } from '../../storage/journal-types.ts';
import {
  RESTORED_DEEDS,
  RESTORED_GROUPS,
  type RestoredDeed,
  type RestoredGroup,
  type RestoredThing,
} from '../../words/codes.ts';
import { APPROVAL, APPROVAL_ELSEWHERE, OWN_PROTOCOL, RETIREMENT } from '../lead/lead-documents.ts';
import { PREPARED_CASE } from '../library/library.ts';
import { MATERIAL } from '../stock/stock-types.ts';
import { SET_APART } from './backup-lines.ts';

type NamedDocument = Pick<StoredDocument, 'kind' | 'id' | 'value'>;

const GROUP_OF: ReadonlyMap<string, RestoredGroup> = new Map([
  [OWN_PROTOCOL, 'revision'],
  [APPROVAL, 'revision'],
  [APPROVAL_ELSEWHERE, 'revision'],
  [RETIREMENT, 'revision'],
  [MATERIAL, 'material'],
  [PREPARED_CASE, 'prepared-case'],
]);

/** Kinds that say something of the thing; the others are the thing itself. */
const SAY_OF_REVISION: ReadonlySet<string> = new Set([APPROVAL, APPROVAL_ELSEWHERE, RETIREMENT]);

const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');

/** The name that people know a thing by; null where what is stored names none. */
function titleOf({ kind, value }: NamedDocument): string | null {
  if (SAY_OF_REVISION.has(kind)) return null;
  const { title, label, lot } = fieldsOf(value);
  const parts = kind === MATERIAL ? [textOf(label), textOf(lot)] : [textOf(title)];
  const named = parts.filter((part) => part !== '').join(', ');
  return named === '' ? null : named;
}

/** The number behind the last @ of `thin-veneers@3`. */
function revisionOf(id: string): number | null {
  const at = id.lastIndexOf('@');
  const number = Number(id.slice(at + 1));
  return at > 0 && Number.isInteger(number) ? number : null;
}

/** Null when a mark of deletion came for what was not here. */
function deedOf(taken: NamedDocument, here: NamedDocument | undefined): RestoredDeed | null {
  if (taken.kind === APPROVAL_ELSEWHERE) return 'waits';
  if (SAY_OF_REVISION.has(taken.kind)) return 'changed';
  const isHere = here !== undefined && here.value !== null;
  if (taken.value === null) return isHere ? 'removed' : null;
  return isHere ? 'changed' : 'added';
}

interface Told {
  readonly about: RestoredGroup;
  readonly id: string;
  title: string | null;
  readonly deeds: Set<RestoredDeed>;
}

function thingOf({ about, id, title, deeds }: Told): RestoredThing {
  // What came with this restore did not change by its own confirmation.
  const isNew = deeds.has('added');
  return {
    about,
    id,
    title: title ?? id,
    revision: about === 'revision' ? revisionOf(id) : null,
    did: RESTORED_DEEDS.filter((deed) => deeds.has(deed) && !(isNew && deed === 'changed')),
  };
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export class RestoredThings {
  readonly #told = new Map<string, Told>();
  /** Titles of what was met, whether it changed or not: a confirmation carries none. */
  readonly #titles = new Map<string, string>();

  /** Remembers the name of a document, here or in the file; the last one counts. */
  meet(document: NamedDocument): void {
    const about = GROUP_OF.get(document.kind);
    const title = titleOf(document);
    if (about !== undefined && title !== null) this.#titles.set(`${about} ${document.id}`, title);
  }

  /** A document was taken in place of `here`. */
  taken(document: NamedDocument, here: NamedDocument | undefined): void {
    if (document.kind === SET_APART) this.apart(document.value);
    const about = GROUP_OF.get(document.kind);
    const deed = deedOf(document, here);
    if (about !== undefined && deed !== null) this.#tell({ about, id: document.id, deed });
  }

  /** What was here gave way and was set apart. */
  earlierApart({ kind, id }: NamedDocument): void {
    const about = GROUP_OF.get(kind);
    if (about !== undefined) this.#tell({ about, id, deed: 'earlier-apart' });
  }

  /** What the file holds was set apart, in the shape in which it is kept. */
  apart(kept: unknown): void {
    const { kind, id, value, caseId, entries } = fieldsOf(kept);
    if (typeof caseId === 'string' && caseId !== '') {
      const [first] = Array.isArray(entries) ? entries : [];
      this.ofCase({ caseId, opening: first, deed: 'set-apart' });
      return;
    }
    const about = GROUP_OF.get(textOf(kind));
    if (about === undefined) return;
    const title = titleOf({ kind: textOf(kind), id: textOf(id), value }) ?? undefined;
    this.#tell({ about, id: textOf(id), title, deed: 'set-apart' });
  }

  /** @param opening the first entry of the case; anything, when it comes from what is damaged. */
  ofCase(o: {
    readonly caseId: string;
    readonly opening: unknown;
    readonly deed: RestoredDeed;
  }): void {
    const { title } = fieldsOf(fieldsOf(fieldsOf(o.opening)['event'])['spec']);
    const named = textOf(title) === '' ? undefined : textOf(title);
    this.#tell({ about: 'case', id: o.caseId, title: named, deed: o.deed });
  }

  /** Everything by group and name. */
  list(): readonly RestoredThing[] {
    const order = (thing: RestoredThing): number => RESTORED_GROUPS.indexOf(thing.about);
    return [...this.#told.entries()]
      .map(([key, told]) =>
        thingOf({ ...told, title: told.title ?? this.#titles.get(key) ?? null }),
      )
      .toSorted(
        (a, b) =>
          order(a) - order(b) ||
          compare(a.title, b.title) ||
          (a.revision ?? 0) - (b.revision ?? 0) ||
          compare(a.id, b.id),
      );
  }

  #tell(o: {
    readonly about: RestoredGroup;
    readonly id: string;
    readonly title?: string | undefined;
    readonly deed: RestoredDeed;
  }): void {
    const { about, id, title = null, deed } = o;
    const key = `${about} ${id}`;
    const told = this.#told.get(key) ?? { about, id, title, deeds: new Set() };
    told.title ??= title;
    told.deeds.add(deed);
    this.#told.set(key, told);
  }
}

/**
 * Gathers what a restore did to each protocol revision, lot and case, so that it can be named
 * afterwards. What stays as it was is not told; all other documents are only counted.
 */
import { fieldsOf } from '../../base/json.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import {
  RESTORED_DEEDS,
  RESTORED_GROUPS,
  type RestoredDeed,
  type RestoredGroup,
  type RestoredThing,
} from '../../words/codes.ts';
import type { Fact } from '../facts/fact.ts';
import { protocolHash } from '../lead/lead-documents.ts';
import type { FactTaking } from './merge-facts.ts';

const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');

const GROUP_OF: Readonly<Partial<Record<Fact['kind'], RestoredGroup>>> = {
  protocol: 'revision',
  sheet: 'sheet',
  material: 'material',
  'prepared-case': 'prepared-case',
  'follow-up': 'follow-up',
  'outcome-review': 'outcome-review',
};

/** What older versions of the app set apart, by the kind of document that it was. */
const APART_GROUP: Readonly<Record<string, RestoredGroup>> = {
  protocol: 'revision',
  approval: 'revision',
  retirement: 'revision',
  material: 'material',
  'prepared-case': 'prepared-case',
};

/** What a fact names its item; null where it names none. */
function titleIn({ said }: Fact): string | null {
  const { protocol, spec, fields, material, sheet, what, title: followed } = fieldsOf(said);
  if (what === 'bonded') return textOf(followed) || null;
  const { label, lot } = fieldsOf(fields ?? material);
  const { title } = fieldsOf(protocol ?? spec);
  const { document, revision } = fieldsOf(sheet);
  const named = [label, lot, title, document, revision].map(textOf).filter((part) => part !== '');
  return named.length === 0 ? null : named.join(', ');
}

const DEED_OF: ReadonlyMap<string, RestoredDeed> = new Map([
  ['recalled', 'recalled'],
  ['recall-lifted', 'recall-lifted'],
  ['retired', 'retired'],
  ['struck', 'removed'],
  ['put-away', 'removed'],
]);

interface Told {
  readonly about: RestoredGroup;
  readonly id: string;
  title: string | null;
  readonly deeds: Set<RestoredDeed>;
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** What a tablet says of its own demonstration it says at once, when it is furnished. */
const FURNISHED_WITHIN_MS = 10_000;

export class RestoredThings {
  /** Facts that were met, by their names: what one follows may come after it. */
  readonly #facts = new Map<string, Fact>();
  /** Facts that changed an item which was here. */
  readonly #changes: { readonly key: string; readonly fact: Fact }[] = [];
  readonly #told = new Map<string, Told>();
  /** Titles of what was met, whether it changed or not: a confirmation carries none. */
  readonly #titles = new Map<string, string>();
  /** The number of a revision, by its hash. */
  readonly #revisions = new Map<string, number>();

  /** Remembers the name of an item, here or in the file; the last one counts. */
  meet(fact: Fact): void {
    const about = GROUP_OF[fact.kind];
    if (about === undefined) return;
    this.#facts.set(fact.id, fact);
    const id = this.#idOf(fact);
    const title = titleIn(fact);
    if (title !== null) this.#titles.set(`${about} ${id}`, title);
  }

  /** A fact was taken that was not here. */
  taken({ fact, isItemHere, waits }: Extract<FactTaking, { did: 'taken' }>): void {
    const about = GROUP_OF[fact.kind];
    if (about === undefined) return;
    const { type: word, lotOnly } = fieldsOf(fact.said);
    // Nothing was removed: there never was a box.
    if (lotOnly === true) return;
    const type = textOf(word);
    const isNew = about === 'revision' ? type === 'written' : !isItemHere;
    const isRecalled = fieldsOf(fieldsOf(fact.said)['material'])['recalled'] !== undefined;
    const said = isRecalled ? 'recalled' : DEED_OF.get(type);
    const deed = said ?? (waits ? 'waits' : isNew ? 'added' : 'changed');
    const key = this.#idOf(fact);
    if (!isItemHere && about !== 'revision') this.#tell({ about, id: key, deed: 'added' });
    if (deed === 'changed') this.#changes.push({ key: `${about} ${key}`, fact });
    this.#tell({ about, id: key, deed });
  }

  /** Invented, as each tablet invents it for itself: another tablet's is no change of this one's. */
  #isDemo({ said, after, tablet, atWallMs }: Fact): boolean {
    if (fieldsOf(said)['demo'] === true) return true;
    const before = after.map((id) => this.#facts.get(id));
    return (
      before.length > 0 &&
      before.every(
        (fact) =>
          fact?.tablet === tablet &&
          atWallMs - fact.atWallMs < FURNISHED_WITHIN_MS &&
          this.#isDemo(fact),
      )
    );
  }

  /** Revisions are told apart by their hash: two tablets may have given one number to two. */
  #idOf({ item, kind, said }: Fact): string {
    if (kind !== 'protocol') return item;
    const { type, hash, protocol } = fieldsOf(said);
    const parsed = type === 'written' ? parseProtocol(protocol) : null;
    if (!parsed?.ok) return textOf(hash) === '' ? item : textOf(hash);
    const own = protocolHash(parsed.value);
    this.#revisions.set(own, parsed.value.revision);
    return own;
  }

  /** What the file holds was set apart, in the shape in which it is kept. */
  apart(kept: unknown): void {
    const { kind, id, value, caseId, entries } = fieldsOf(kept);
    if (typeof caseId === 'string' && caseId !== '') {
      const [first] = Array.isArray(entries) ? entries : [];
      this.ofCase({ caseId, opening: first, deed: 'set-apart' });
      return;
    }
    const about = APART_GROUP[textOf(kind)];
    if (about === undefined) return;
    const { title, label, lot } = fieldsOf(value);
    const named = [label, lot, title].map(textOf).filter((part) => part !== '');
    this.#tell({ about, id: textOf(id), title: named.join(', ') || undefined, deed: 'set-apart' });
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
    const changes = this.#changes.filter(({ fact }) => !this.#isDemo(fact));
    const changed = new Set(changes.map(({ key }) => key));
    const isChanged = (key: string): boolean =>
      key.startsWith('case ') || changed.has(key) || !this.#changes.some((c) => c.key === key);
    return [...this.#told.entries()]
      .map(([key, { about, id, title, deeds }]) => ({
        about,
        id,
        title: title ?? this.#titles.get(key) ?? id,
        revision: this.#revisions.get(id) ?? null,
        // What came with this restore did not change by its own confirmation.
        did: RESTORED_DEEDS.filter(
          (deed) =>
            deeds.has(deed) && (deed !== 'changed' || (!deeds.has('added') && isChanged(key))),
        ),
      }))
      .filter(({ did }) => did.length > 0)
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

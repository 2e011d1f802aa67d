/** What the forms around the steps make: the edits of a caution, a source, a way back, a stage. */
import { freeId } from '../../../protocol/edit.ts';
import { type Edit, itemAt, type Spot } from '../../../protocol/edit-types.ts';
import { usesOfSource } from '../../../protocol/edit-uses.ts';
import type {
  OnlyIf,
  PressList,
  Protocol,
  Source,
  Step,
  WayBack,
} from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { basisShort } from '../../../words/basis-words.ts';
import { figureLabel, isFigureKey } from '../../../words/figure-words.ts';
import { entryEdits, type OpenEntry } from './editor-new.ts';

export type Caution = Protocol['cautions'][number];
export type Stage = Protocol['stages'][number];

const SHORT_LENGTH = 44;

/** The beginning of a long text, cut between words, for names of buttons and lists. */
export function shortWords(text: string): string {
  if (text.length <= SHORT_LENGTH) return text;
  const cut = text.slice(0, SHORT_LENGTH);
  const words = cut.slice(0, Math.max(cut.lastIndexOf(' '), SHORT_LENGTH / 2));
  return aroundWords.shortened(words.replace(/[,.;:]$/, ''));
}

/** "Gaile 2022": how a source is named under a number. */
export function sourceShort(source: Source): string {
  return basisShort({ kind: 'published', source: source.id }, [source]);
}

/** A DOI without what people copy along with it (a resolver's address, the word before it). */
export function cleanDoi(text: string): string {
  return text.trim().replace(/^(?:https?:\/\/)?(?:dx\.)?doi(?:\.org\/|:)\s*/i, '');
}

/** A new entry gets its id from what was typed; one that is there keeps its own. */
function idOf(
  { item, isNew }: OpenEntry<{ readonly id: string }>,
  o: { readonly taken: readonly { readonly id: string }[]; readonly stem: string },
): string {
  return isNew ? freeId(o.taken, o.stem) : item.id;
}

/** Steps at which a caution is said, after the boxes of its form were ticked. */
function bindingEdits(protocol: Protocol, id: string, steps: readonly string[]): readonly Edit[] {
  return protocol.steps.flatMap((step): Edit[] => {
    const had = step.cautions ?? [];
    const isOn = steps.includes(step.id);
    if (had.includes(id) === isOn) return [];
    const value = isOn ? [...had, id] : had.filter((other) => other !== id);
    const spot = { part: 'steps', id: step.id, key: 'cautions' } as const;
    return [value.length === 0 ? { do: 'clear', spot } : { do: 'set-field', spot, value }];
  });
}

export interface CautionForm {
  readonly words: string;
  /** What stands beside a clock. */
  readonly short?: string | undefined;
  /** Ids of the steps it is said at. */
  readonly steps: readonly string[];
}

export function cautionEdits(
  protocol: Protocol,
  open: OpenEntry<Caution>,
  form: CautionForm,
): readonly Edit[] {
  const words = form.words.trim();
  const stem = words.split(/\s+/).slice(0, 3).join(' ');
  const short = (form.short ?? '').trim();
  const id = idOf(open, { taken: protocol.cautions, stem });
  const after = { id, words, ...(short === '' ? {} : { short }) };
  return [...entryEdits('cautions', open, after), ...bindingEdits(protocol, after.id, form.steps)];
}

export function sourceEdits(
  { sources }: Protocol,
  open: OpenEntry<Source>,
  form: Source,
): readonly Edit[] {
  const doi = cleanDoi(form.doi ?? '');
  const citation = form.citation.trim();
  const id = idOf(open, { taken: sources, stem: sourceShort({ id: '', citation }) });
  return entryEdits('sources', open, { id, citation, ...(doi === '' ? {} : { doi }) });
}

export function wayBackEdits(
  { waysBack }: Protocol,
  open: OpenEntry<WayBack>,
  form: WayBack,
): readonly Edit[] {
  const title = form.title.trim();
  const id = idOf(open, { taken: waysBack, stem: title });
  return entryEdits('waysBack', open, { ...form, id, title, proposal: form.proposal.trim() });
}

export function stageEdits(
  { stages }: Protocol,
  open: OpenEntry<Stage>,
  form: Stage,
): readonly Edit[] {
  const title = form.title.trim();
  return entryEdits('stages', open, { id: idOf(open, { taken: stages, stem: title }), title });
}

export interface ListForm {
  readonly title: string;
  readonly words: string;
  /** Ids of its lines. */
  readonly steps: readonly string[];
}

export const linesOf = ({ steps }: Protocol, list: string): readonly Step[] =>
  steps.filter(({ pressed }) => pressed?.kind === 'list' && pressed.list === list);

/** The steps that become lines of a list, and those that are pressed one by one again. */
function lineEdits(protocol: Protocol, list: string, lines: readonly string[]): readonly Edit[] {
  const had = new Set(linesOf(protocol, list).map(({ id }) => id));
  return protocol.steps.flatMap(({ id }): Edit[] => {
    if (had.has(id) === lines.includes(id)) return [];
    const spot = { part: 'steps', id, key: 'pressed' } as const;
    if (had.has(id)) return [{ do: 'clear', spot }];
    return [{ do: 'set-field', spot, value: { kind: 'list', list } }];
  });
}

export function listEdits(
  protocol: Protocol,
  open: OpenEntry<PressList>,
  form: ListForm,
): readonly Edit[] {
  const title = form.title.trim();
  const id = idOf(open, { taken: protocol.lists ?? [], stem: title });
  const entry = entryEdits('lists', open, { id, title, words: form.words.trim() });
  return [...entry, ...lineEdits(protocol, id, form.steps)];
}

export function newList({ lists = [] }: Protocol): PressList {
  return { id: freeId(lists, 'list'), title: '', words: '' };
}

export function newCaution({ cautions }: Protocol): Caution {
  return { id: freeId(cautions, 'caution'), words: '' };
}

export function newSource({ sources }: Protocol): Source {
  return { id: freeId(sources, 'source'), citation: '' };
}

export function newStage({ stages }: Protocol): Stage {
  return { id: freeId(stages, 'stage'), title: '' };
}

export function newWayBack({ waysBack }: Protocol): WayBack {
  return {
    id: freeId(waysBack, 'way-back'),
    title: '',
    mishap: 'saliva',
    per: 'tooth',
    voids: [],
    proposal: '',
    basis: { kind: 'practice' },
  };
}

function spotName(protocol: Protocol, { part, id, key }: Spot): string {
  const owner = part === 'protocol' ? undefined : itemAt(protocol, { part, id });
  const title = owner !== undefined && 'title' in owner ? owner.title : id;
  return isFigureKey(key) ? aroundWords.numberOf({ title, label: figureLabel(key) }) : title;
}

/** What stands on a source, in words. */
export function sourceUses(protocol: Protocol, source: string): readonly string[] {
  return usesOfSource(protocol, source).map((spot) => spotName(protocol, spot));
}

/** "Shade: “wrong” was chosen", "way back taken: Saliva on a cleaned tooth". */
export function conditionWords(protocol: Protocol, condition: OnlyIf): string {
  if ('wayBack' in condition) {
    const way = protocol.waysBack.find(({ id }) => id === condition.wayBack);
    const taken = aroundWords.taken(way?.title ?? condition.wayBack);
    if (condition.voided === undefined) return taken;
    const lost = protocol.steps.find(({ id }) => id === condition.voided);
    return aroundWords.takenWhere({ taken, step: lost?.title ?? condition.voided });
  }
  const step = protocol.steps.find(({ id }) => id === condition.step);
  const options = step?.action.kind === 'choose' ? step.action.options : [];
  const option = options.find(({ id }) => id === condition.option);
  return aroundWords.chosen({
    step: step?.title ?? condition.step,
    option: option?.label ?? condition.option,
  });
}

/** Everything that another step can depend on: options of choices, ways back. */
export function knownConditions(protocol: Protocol, step: Step): readonly OnlyIf[] {
  const chosen = protocol.steps.flatMap((other) =>
    other.id !== step.id && other.action.kind === 'choose'
      ? other.action.options.map((option): OnlyIf => ({ step: other.id, option: option.id }))
      : [],
  );
  return [...chosen, ...protocol.waysBack.map(({ id }): OnlyIf => ({ wayBack: id }))];
}

/** Tells conditions apart in a list of choices. */
export function conditionKey(condition: OnlyIf): string {
  return 'wayBack' in condition
    ? `way-back ${condition.wayBack} ${condition.voided ?? ''}`
    : `option ${condition.step} ${condition.option}`;
}

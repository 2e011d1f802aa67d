/** What the forms of the protocol itself make: its texts and classes, its materials, its choices. */
import { isSameJson } from '../../../base/json.ts';
import { freeId } from '../../../protocol/edit.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import { usesOfChoice } from '../../../protocol/edit-uses.ts';
import type { MaterialSlot, Protocol, ProtocolChoice } from '../../../protocol/types.ts';
import { entryEdits, type OpenEntry } from './editor-new.ts';

type HeadKey = 'title' | 'summary' | 'restorations' | 'materials' | 'choices';

function setOwn(key: HeadKey, value: unknown): Edit {
  const spot = { part: 'protocol', id: '', key } as const;
  return value === undefined ? { do: 'clear', spot } : { do: 'set-field', spot, value };
}

export interface HeadForm {
  readonly title: string;
  readonly summary: string;
  readonly restorations: readonly string[];
  /** None: for units of any class. */
  readonly materials: readonly string[];
  /** A class that is being typed and is not on the list yet. */
  readonly otherRestoration: string;
  readonly otherMaterial: string;
}

export function headForm({ title, summary, restorations, materials }: Protocol): HeadForm {
  const typed = { otherRestoration: '', otherMaterial: '' };
  return { title, summary, restorations, materials: materials ?? [], ...typed };
}

export function headEdits(protocol: Protocol, form: HeadForm): readonly Edit[] {
  const after = {
    title: form.title.trim(),
    summary: form.summary.trim(),
    restorations: form.restorations,
    materials: form.materials.length === 0 ? undefined : form.materials,
  };
  const keys = ['title', 'summary', 'restorations', 'materials'] as const;
  return keys.flatMap((key) =>
    isSameJson(protocol[key], after[key]) ? [] : [setOwn(key, after[key])],
  );
}

export type SlotForm = Omit<MaterialSlot, 'standsFor'> & {
  /** One label on each line. */
  readonly standsFor: string;
};

export function slotForm({ standsFor = [], ...slot }: MaterialSlot): SlotForm {
  return { ...slot, standsFor: standsFor.join('\n') };
}

export function slotEdits(
  { slots }: Protocol,
  open: OpenEntry<MaterialSlot>,
  form: SlotForm,
): readonly Edit[] {
  const { standsFor: lines, ...rest } = form;
  const label = form.label.trim();
  const id = open.isNew ? freeId(slots, label) : open.item.id;
  const standsFor = lines
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');
  const slot = { ...rest, id, label, materialClass: form.materialClass.trim() };
  return entryEdits('slots', open, standsFor.length === 0 ? slot : { ...slot, standsFor });
}

export function newSlot({ slots }: Protocol): MaterialSlot {
  return { id: freeId(slots, 'material'), materialClass: '', label: '', refrigerated: false };
}

interface OptionForm {
  /** Empty until it is applied: its id is made from its label. */
  readonly id: string;
  readonly label: string;
  readonly note?: string;
}

export interface ChoiceForm {
  readonly title: string;
  readonly why?: string;
  readonly options: readonly OptionForm[];
  /** Which option holds where a case names none, by its place. */
  readonly chosen: number;
}

export function choiceForm({ title, why, options, default: own }: ProtocolChoice): ChoiceForm {
  const chosen = Math.max(
    0,
    options.findIndex(({ id }) => id === own),
  );
  return { title, ...(why !== undefined && { why }), options, chosen };
}

/** Each option that is new gets an id from its label that no other has. */
function withIds(options: readonly OptionForm[]): readonly OptionForm[] {
  const taken = options.filter(({ id }) => id !== '');
  return options.map((option) => {
    if (option.id !== '') return option;
    const named = { ...option, id: freeId(taken, option.label) };
    taken.push(named);
    return named;
  });
}

export function choiceEdits(
  { choices = [] }: Protocol,
  open: OpenEntry<ProtocolChoice>,
  form: ChoiceForm,
): readonly Edit[] {
  const title = form.title.trim();
  const id = open.isNew ? freeId(choices, title) : open.item.id;
  const trimmed = form.options.map(({ note, ...option }) => ({
    ...option,
    label: option.label.trim(),
    ...(note !== undefined && { note: note.trim() }),
  }));
  const options = withIds(trimmed);
  const why = form.why?.trim();
  const choice: ProtocolChoice = {
    id,
    title,
    ...(why !== undefined && { why }),
    options,
    default: options[form.chosen]?.id ?? '',
  };
  if (isSameJson(choice, open.item)) return [];
  const after = open.isNew
    ? [...choices, choice]
    : choices.map((other) => (other.id === id ? choice : other));
  return [setOwn('choices', after)];
}

export function newChoice({ choices = [] }: Protocol): ProtocolChoice {
  const options = [
    { id: '', label: '' },
    { id: '', label: '' },
  ];
  return { id: freeId(choices, 'choice'), title: '', options, default: '' };
}

/** The choices in this order; a document that has none leaves them out. */
export function choicesEdit(choices: readonly ProtocolChoice[]): Edit {
  return setOwn('choices', choices.length === 0 ? undefined : choices);
}

/** The steps and ways back that ask for this choice, by their titles. */
export function choiceUses(protocol: Protocol, choice: string, option?: string): string[] {
  return usesOfChoice(protocol, { choice, option }).map(({ title }) => title);
}

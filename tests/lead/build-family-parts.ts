/** Fills the forms of what stands around the steps: materials, cautions, windows, ways back. For tests only. */
import type { Locator } from 'playwright-core';
import { figuresOf, type Part } from '../../src/protocol/edit-types.ts';
import type {
  Basis,
  Caution,
  MaterialSlot,
  Moment,
  PressList,
  Protocol,
  ProtocolChoice,
  Source,
  WayBack,
  Window,
} from '../../src/protocol/types.ts';
import { shortWords, sourceShort } from '../../src/ui/lead/editor/editor-around-model.ts';
import { windowName } from '../../src/ui/lead/editor/editor-window-names.ts';
import { aroundWords } from '../../src/words/around-words.ts';
import { whereWords } from '../../src/words/condition-words.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { familyWords } from '../../src/words/family-words.ts';
import { choiceWords, fieldTexts } from '../../src/words/form-words.ts';
import { pressingWords } from '../../src/words/pressing-words.ts';
import { protocolWords } from '../../src/words/protocol-words.ts';
import { chooseStep, groupIn, label, rows } from './build-family-form.ts';
import type { Hand } from './build-family-hand.ts';
import { typeAsked } from './build-family-numbers.ts';
import { fillWhere } from './build-family-waits.ts';

/** What a form is filled from: the document that is to come out, and what the draft says under its ids. */
export interface PartJob {
  readonly hand: Hand;
  readonly target: Protocol;
  readonly now: Protocol;
}

type AnyPart = Part | 'choices';

/** How the entries of one part are found and filled. */
export interface PartForm<T> {
  readonly part: AnyPart;
  readonly view: 'head' | 'around' | 'steps';
  readonly list: string;
  readonly add: string;
  /** What the desk calls it in `of`. */
  readonly name: (item: T, of: Protocol) => string;
  readonly fill: (
    job: PartJob,
    sheet: Locator,
    o: { readonly item: T; readonly was: T | null },
  ) => Promise<void>;
}

async function fillMoment(
  job: PartJob,
  sheet: Locator,
  o: {
    readonly label: string;
    readonly none: string | undefined;
    readonly moment: Moment | undefined;
  },
): Promise<void> {
  const { hand } = job;
  const list = sheet.getByLabel(o.label, { exact: true });
  if (o.moment === undefined) {
    await hand.choose(list, o.none ?? '');
    return;
  }
  if (!(await chooseStep(job, list, o.moment.step))) return;
  await hand.pickIn(sheet, editorWords.edgeOf(o.label), editorWords.edge[o.moment.edge]);
}

const slots: PartForm<MaterialSlot> = {
  part: 'slots',
  view: 'head',
  list: familyWords.slots.title,
  add: familyWords.slots.add,
  name: (item) => item.label,
  fill: async ({ hand }, sheet, { item }) => {
    await hand.typeIn(sheet, label('slots', 'label'), item.label);
    await hand.typeIn(sheet, label('slots', 'materialClass'), item.materialClass);
    await hand.tickIn(sheet, label('slots', 'refrigerated'), item.refrigerated);
    await hand.tickIn(sheet, label('slots', 'optional'), item.optional === true);
    await hand.typeIn(sheet, familyWords.slots.standsFor, item.standsFor?.join('\n'));
  },
};

const choices: PartForm<ProtocolChoice> = {
  part: 'choices',
  view: 'head',
  list: familyWords.choices.title,
  add: familyWords.choices.add,
  name: (item) => item.title,
  fill: async ({ hand }, sheet, { item }) => {
    const words = familyWords.choices;
    await hand.typeIn(sheet, label('choices', 'title'), item.title);
    await hand.typeIn(sheet, label('choices', 'why'), item.why);
    const options = groupIn(sheet, words.options);
    const lines = rows(options, '.editor-condition');
    for (const [index, option] of item.options.entries()) {
      if ((await lines.count()) <= index) await hand.pressIn(options, words.addOption);
      const line = groupIn(options, words.option(index + 1));
      await hand.typeIn(line, label('options', 'label'), option.label);
      await hand.typeIn(line, label('options', 'note'), option.note);
    }
    const standing = item.options.find(({ id }) => id === item.default)?.label ?? '';
    await hand.chooseIn(sheet, words.standing, standing);
  },
};

const cautions: PartForm<Caution> = {
  part: 'cautions',
  view: 'around',
  list: aroundWords.cautions,
  add: aroundWords.addCaution,
  name: (item) => shortWords(item.words),
  fill: async ({ hand }, sheet, { item }) => {
    await hand.typeIn(sheet, label('cautions', 'words'), item.words);
    await hand.typeIn(sheet, label('cautions', 'short'), item.short);
  },
};

const sources: PartForm<Source> = {
  part: 'sources',
  view: 'around',
  list: aroundWords.sources,
  add: aroundWords.addSource,
  name: sourceShort,
  fill: async ({ hand }, sheet, { item }) => {
    await hand.typeIn(sheet, label('sources', 'citation'), item.citation);
    await hand.typeIn(sheet, label('sources', 'doi'), item.doi);
  },
};

const stages: PartForm<Protocol['stages'][number]> = {
  part: 'stages',
  view: 'around',
  list: aroundWords.stages,
  add: aroundWords.addStage,
  name: (item) => item.title,
  fill: async ({ hand }, sheet, { item }) => {
    await hand.typeIn(sheet, label('stages', 'title'), item.title);
  },
};

const lists: PartForm<PressList> = {
  part: 'lists',
  view: 'around',
  list: pressingWords.lists,
  add: pressingWords.addList,
  name: (item) => item.title,
  fill: async ({ hand }, sheet, { item }) => {
    await hand.typeIn(sheet, label('lists', 'title'), item.title);
    await hand.typeIn(sheet, label('lists', 'words'), item.words);
  },
};

const windows: PartForm<Window> = {
  part: 'windows',
  view: 'steps',
  list: editorWords.windows,
  add: editorWords.addWindow,
  name: (item, of) => windowName(of, item),
  fill: async (job, sheet, { item }) => {
    const { hand, target } = job;
    await hand.typeIn(sheet, label('windows', 'title'), item.title);
    for (const key of ['from', 'to'] as const) {
      await fillMoment(job, sheet, {
        ...fieldTexts('windows', key),
        none: undefined,
        moment: item[key],
      });
    }
    await hand.pickIn(
      sheet,
      label('windows', 'match'),
      choiceWords('windows', 'match', item.match),
    );
    const protects = choiceWords('windows', 'protects', item.protects);
    await hand.pickIn(sheet, label('windows', 'protects'), protects);
    const severity = choiceWords('windows', 'severity', item.severity);
    await hand.pickIn(sheet, label('windows', 'severity'), severity);
    const back = fieldTexts('windows', 'wayBack');
    const way = target.waysBack.find(({ id }) => id === item.wayBack)?.title;
    const list = sheet.getByLabel(back.label, { exact: true });
    const known = await list.locator('option').allTextContents();
    const wanted = way ?? back.none ?? '';
    if (known.includes(wanted)) await hand.choose(list, wanted);
    await hand.tickIn(sheet, label('windows', 'amber'), item.amber === true);
    await hand.typeIn(sheet, label('windows', 'why'), item.why);
    await typeAsked(hand, sheet, figuresOf({ ...target, steps: [], windows: [item] }));
  },
};

async function fillVoids(job: PartJob, sheet: Locator, way: WayBack): Promise<void> {
  const { hand } = job;
  const group = groupIn(sheet, aroundWords.voids);
  const lines = rows(group, '.editor-void');
  while ((await lines.count()) > way.voids.length) {
    await hand.tap(lines.last().getByRole('button'));
  }
  for (const [index, voided] of way.voids.entries()) {
    if ((await lines.count()) <= index) await hand.pressIn(group, aroundWords.addVoid);
    const line = lines.nth(index);
    await chooseStep(job, line.getByLabel(label('voids', 'step'), { exact: true }), voided.step);
    await hand.chooseIn(line, label('voids', 'link'), choiceWords('voids', 'link', voided.link));
    const only = fieldTexts('voids', 'onlyAfter');
    const list = line.getByLabel(only.label, { exact: true });
    if (voided.onlyAfter === undefined) await hand.choose(list, only.none ?? '');
    else await chooseStep(job, list, voided.onlyAfter);
  }
}

async function fillBasis({ hand, target }: PartJob, sheet: Locator, basis: Basis): Promise<void> {
  if (basis.kind === 'instructions') return;
  await hand.pickIn(sheet, editorWords.basis, editorWords.basisKind[basis.kind]);
  if (basis.kind === 'published') {
    const source = target.sources.find(({ id }) => id === basis.source)?.citation ?? '';
    await hand.chooseIn(sheet, editorWords.source, source);
  }
  await hand.typeIn(sheet, editorWords.note, basis.note);
}

const waysBack: PartForm<WayBack> = {
  part: 'waysBack',
  view: 'around',
  list: aroundWords.waysBack,
  add: aroundWords.addWayBack,
  name: (item) => item.title,
  fill: async (job, sheet, { item, was }) => {
    const { hand, target, now } = job;
    await hand.typeIn(sheet, label('waysBack', 'title'), item.title);
    await hand.chooseIn(sheet, label('waysBack', 'mishap'), protocolWords.mishaps[item.mishap]);
    await hand.pickIn(sheet, label('waysBack', 'per'), protocolWords.scopes[item.per]);
    await hand.typeIn(sheet, label('waysBack', 'proposal'), item.proposal);
    for (const key of ['from', 'until'] as const) {
      const { label: name, none } = fieldTexts('waysBack', key);
      await fillMoment(job, sheet, { label: name, none, moment: item[key] });
    }
    if (whereWords(was?.where, now) !== whereWords(item.where, target)) {
      const where = { had: was?.where?.length ?? 0, where: item.where, within: '' };
      await fillWhere(job, groupIn(sheet, familyWords.condition.fitsOnly), where);
    }
    await fillVoids(job, sheet, item);
    await fillBasis(job, sheet, item.basis);
    const words = (id: string) => target.cautions.find((each) => each.id === id)?.words ?? id;
    await hand.tickAll(groupIn(sheet, aroundWords.cautionsOfStep), {
      had: (was?.cautions ?? [])
        .filter((id) => target.cautions.some((each) => each.id === id))
        .map(words),
      wanted: (item.cautions ?? []).map(words),
    });
  },
};

/** In the order in which a person would come to need them: what steps name stands before the steps. */
export const BEFORE_STEPS = [slots, choices, sources, stages, lists, cautions] as const;
export const AFTER_STEPS = [waysBack, windows] as const;

/** Fills what is done at a step, and what is asked with its press. For tests only. */
import type { Locator } from 'playwright-core';
import { isSameJson } from '../../src/base/json.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import type { Evidence, Step } from '../../src/protocol/types.ts';
import { stepKindWord } from '../../src/ui/lead/editor/editor-step-names.ts';
import { whereWords } from '../../src/words/condition-words.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { fieldTexts } from '../../src/words/form-words.ts';
import { materialWord } from '../../src/words/material-words.ts';
import { stepFormWords } from '../../src/words/step-form-words.ts';
import { SURFACE_WORDS } from '../../src/words/subject-words.ts';
import { chooseStep, groupIn, label, opened, rows, type StepJob } from './build-family-form.ts';
import { typeAsked } from './build-family-numbers.ts';
import { fillWhere } from './build-family-waits.ts';

export async function fillAsked(job: StepJob, sheet: Locator): Promise<void> {
  const { hand, step } = job;
  const group = await opened(job, sheet, stepFormWords.asked);
  await hand.chooseIn(group, editorWords.action, editorWords.actionKind[step.action.kind]);
  await fillAction(job, group);
  const own = figuresOf({ ...job.target, steps: [step], windows: [] });
  await typeAsked(hand, group, own);
  const texts = fieldTexts('steps', 'rangeClass');
  const range = step.rangeClass === undefined ? (texts.none ?? '') : stepKindWord(step.rangeClass);
  // The field of the step stands last; those of its times have the same label.
  await hand.choose(group.getByLabel(texts.label, { exact: true }).last(), range);
}

async function fillAction(job: StepJob, group: Locator): Promise<void> {
  const { hand, step, was } = job;
  const { action } = step;
  switch (action.kind) {
    case 'confirm':
      return fillEvidence(job, group, action.evidence);
    case 'dwell':
      return fillTimes(job, group);
    case 'coats':
      return hand.typeIn(group, label('coats', 'until'), action.until);
    case 'expose': {
      const had = was?.action.kind === 'expose' ? was.action.surfaces : (['facial'] as const);
      await hand.tickAll(groupIn(group, editorWords.surfaces), {
        had: had.map((surface) => SURFACE_WORDS[surface]),
        wanted: action.surfaces.map((surface) => SURFACE_WORDS[surface]),
      });
      return hand.pickIn(group, label('expose', 'walk'), stepFormWords.walk[action.walk]);
    }
    case 'tally':
      return hand.typeIn(group, label('tally', 'label'), action.label);
    case 'choose':
      await fillAnswers(job, group, { had: answersOf(was), wanted: action.options });
      return fillReadBack(job, group, action.evidence);
  }
}

async function fillReadBack(job: StepJob, group: Locator, evidence: Evidence | undefined) {
  const texts = fieldTexts('readBack', 'of');
  const of = evidence?.kind === 'read-back' ? stepFormWords.readBack[evidence.of] : texts.none;
  await job.hand.chooseIn(group, texts.label, of ?? '');
}

async function fillEvidence(job: StepJob, group: Locator, evidence: Evidence | undefined) {
  const { hand, target } = job;
  const kind = evidence?.kind ?? 'none';
  await hand.chooseIn(group, stepFormWords.evidence, stepFormWords.evidenceKind[kind]);
  switch (evidence?.kind) {
    case undefined:
      return;
    case 'choice':
      return fillAnswers(job, group, { had: answersOf(job.was), wanted: evidence.options });
    case 'reading': {
      await hand.typeIn(group, label('reading', 'label'), evidence.label);
      await hand.typeIn(group, label('reading', 'unit'), evidence.unit);
      await hand.typeIn(group, label('reading', 'min'), String(evidence.min));
      await hand.typeIn(group, label('reading', 'max'), String(evidence.max));
      const against = fieldTexts('reading', 'against');
      const is = evidence.against;
      const other = is === undefined ? against.none : stepFormWords.against[is];
      await hand.pickIn(group, against.label, other ?? '');
      const equals = fieldTexts('reading', 'equals');
      const list = group.getByLabel(equals.label, { exact: true });
      if (evidence.equals === undefined) await hand.choose(list, equals.none ?? '');
      else await chooseStep(job, list, evidence.equals);
      return;
    }
    case 'material': {
      const slot = target.slots.find(({ id }) => id === evidence.slot)?.label ?? '';
      return hand.chooseIn(group, label('material', 'slot'), slot);
    }
    case 'note':
      return hand.typeIn(group, label('note', 'label'), evidence.label);
    case 'read-back':
      return fillReadBack(job, group, evidence);
  }
}

interface Answer {
  readonly label: string;
  readonly redo?: readonly string[];
}

async function fillAnswers(
  job: StepJob,
  group: Locator,
  o: { readonly had: readonly Answer[]; readonly wanted: readonly Answer[] },
): Promise<void> {
  const { hand } = job;
  const answers = groupIn(group, stepFormWords.answers);
  const lines = rows(answers, '.editor-one');
  while ((await lines.count()) > o.wanted.length) {
    await hand.tap(lines.last().locator('.editor-answer').getByRole('button'));
  }
  for (const [index, answer] of o.wanted.entries()) {
    if ((await lines.count()) <= index) await hand.pressIn(answers, stepFormWords.addAnswer);
    const line = lines.nth(index);
    await hand.typeIn(line, stepFormWords.answer(index + 1), answer.label);
    const again = { had: o.had[index]?.redo ?? [], wanted: answer.redo ?? [] };
    if (!isSameJson(again.had, again.wanted)) {
      await pickSteps(job, groupIn(line, stepFormWords.again(answer.label)), again);
    }
  }
}

/** Steps that are picked one by one: those that are not in their place go, the others come, in order. */
async function pickSteps(
  job: StepJob,
  group: Locator,
  o: { readonly had: readonly string[]; readonly wanted: readonly string[] },
): Promise<void> {
  const isKept = o.had.every((id, i) => o.wanted[i] === id);
  const picked = group.locator('.editor-picks > li');
  if (!isKept) {
    while ((await picked.count()) > 0) await job.hand.tap(picked.last().getByRole('button'));
  }
  for (const id of isKept ? o.wanted.slice(o.had.length) : o.wanted) {
    const isThere = await chooseStep(
      job,
      group.getByLabel(stepFormWords.addPick, { exact: true }),
      id,
    );
    // In order, or another time.
    if (!isThere) return;
  }
}

async function fillTimes(job: StepJob, group: Locator): Promise<void> {
  const { hand, step, was, now, target } = job;
  const { action } = step;
  if (action.kind !== 'dwell') return;
  const had = was?.action.kind === 'dwell' ? was.action : null;
  const texts = fieldTexts('times', 'rangeClass');
  const rangeOf = (id: string | undefined) =>
    id === undefined ? (texts.none ?? '') : stepKindWord(id);
  const materials = groupIn(group, stepFormWords.byMaterial);
  const { byMaterial = {}, variants = [] } = action;
  for (const material of Object.keys(had?.byMaterial ?? {})) {
    if (Object.hasOwn(byMaterial, material)) continue;
    await hand.pressIn(materials, stepFormWords.removeTimes(materialWord(material)));
  }
  for (const [material, times] of Object.entries(byMaterial)) {
    const word = materialWord(material);
    const isThere = Object.hasOwn(had?.byMaterial ?? {}, material);
    if (!isThere) await hand.chooseIn(materials, stepFormWords.addMaterial, word);
    const one = groupIn(materials, stepFormWords.timesOf(word));
    await hand.chooseIn(one, texts.label, rangeOf(times.rangeClass));
  }
  const cases = groupIn(group, stepFormWords.variants);
  const lines = rows(cases, '.editor-one');
  while ((await lines.count()) > variants.length) {
    const last = await lines.count();
    await hand.pressIn(cases, stepFormWords.removeTimes(stepFormWords.variant(last)));
  }
  for (const [index, times] of variants.entries()) {
    const isNew = (await lines.count()) <= index;
    if (isNew) await hand.pressIn(cases, stepFormWords.addVariant);
    const line = lines.nth(index);
    const before = isNew ? undefined : had?.variants?.[index]?.where;
    if (whereWords(before, now) !== whereWords(times.where, target)) {
      await fillWhere(job, groupIn(line, stepFormWords.variantWhere(index + 1)), {
        had: before?.length ?? 1,
        where: times.where,
        within: '',
      });
    }
    await hand.chooseIn(line, texts.label, rangeOf(times.rangeClass));
  }
}

function answersOf(step: Step | null): readonly Answer[] {
  if (step?.action.kind === 'choose') return step.action.options;
  const evidence = step?.action.kind === 'confirm' ? step.action.evidence : undefined;
  return evidence?.kind === 'choice' ? evidence.options : [];
}

/** Fills what a step waits for, and where and when it is done at all. For tests only. */
import type { Locator } from 'playwright-core';
import { isSameJson } from '../../src/base/json.ts';
import type { Where } from '../../src/protocol/facts.ts';
import type { OnlyIf, Step } from '../../src/protocol/types.ts';
import {
  conditionKey,
  conditionWords as onlyIfWords,
} from '../../src/ui/lead/editor/editor-around-model.ts';
import { aroundWords } from '../../src/words/around-words.ts';
import { conditionWords, factValue, whereWords } from '../../src/words/condition-words.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { familyWords } from '../../src/words/family-words.ts';
import { stepFormWords } from '../../src/words/step-form-words.ts';
import {
  chooseStep,
  fillStepOrNone,
  groupIn,
  label,
  opened,
  rows,
  type StepJob,
} from './build-family-form.ts';

async function fillAfter(job: StepJob, group: Locator): Promise<void> {
  const { hand, step, target, now, was } = job;
  const waits = groupIn(group, editorWords.after);
  const lines = rows(waits, '.editor-one');
  while ((await lines.count()) > step.after.length) {
    await hand.tap(lines.last().locator('.editor-void').getByRole('button'));
  }
  for (const [index, after] of step.after.entries()) {
    const isNew = (await lines.count()) <= index;
    const add = waits.getByRole('button', { name: editorWords.addAfter, exact: true });
    if (isNew && (await add.isDisabled())) return;
    if (isNew) await hand.tap(add);
    const line = lines.nth(index);
    const list = line.locator('.editor-void').getByLabel(label('after', 'step'), { exact: true });
    if (!(await chooseStep(job, list, after.step))) {
      if (isNew) await hand.tap(line.locator('.editor-void').getByRole('button'));
      return;
    }
    const link = editorWords.linkWords[after.link];
    await hand.chooseIn(line, label('after', 'link'), link);
    await hand.chooseIn(line, stepFormWords.edgeLabel, stepFormWords.edge[after.edge ?? 'end']);
    const had = isNew ? undefined : was?.after[index]?.where;
    if (whereWords(had, now) === whereWords(after.where, target)) continue;
    const narrow = line.getByRole('button', { name: /^Wait for .* only where …$/ });
    if (had === undefined) await hand.tap(narrow);
    await fillWhere(job, line.getByRole('group', { name: /^Wait for .* only where$/ }), {
      had: had?.length ?? 1,
      where: after.where,
      within: '',
    });
  }
}

/** Takes the conditions off that are there, and puts the wanted ones in. */
export async function fillWhere(
  job: Pick<StepJob, 'hand' | 'target'>,
  group: Locator,
  o: {
    readonly had: number;
    readonly where: readonly Where[] | undefined;
    readonly within: string;
  },
): Promise<void> {
  const { hand } = job;
  const words = familyWords.condition;
  const { where = [], within } = o;
  for (let place = o.had; place > where.length; place -= 1) {
    const name = editorWords.named.remove(words.one(`${within}${place}`));
    await hand.pressIn(group, name);
  }
  for (const [index, condition] of where.entries()) {
    const place = `${within}${index + 1}`;
    if (index >= o.had) {
      await hand.pressIn(group, within === '' ? words.add : words.addTo(within.slice(0, -1)));
    }
    await fillCondition(job, groupIn(group, words.one(place)), { condition, place });
  }
}

async function fillCondition(
  job: Pick<StepJob, 'hand' | 'target'>,
  group: Locator,
  o: { readonly condition: Where; readonly place: string },
): Promise<void> {
  const { hand, target } = job;
  const words = familyWords.condition;
  const { condition, place } = o;
  const asks = rows(group, '.editor-condition-head').getByLabel(words.asks, { exact: true });
  // Another question first, so that what was answered before is gone.
  await hand.choose(asks, words.asksThickness);
  if ('overMm' in condition) {
    await hand.typeIn(group, words.over, String(condition.overMm));
    return;
  }
  if ('anyOf' in condition) {
    await hand.choose(asks, words.asksAny);
    await fillWhere(job, group, { had: 1, where: condition.anyOf, within: `${place}.` });
    return;
  }
  const choice =
    'choice' in condition ? target.choices?.find(({ id }) => id === condition.choice) : undefined;
  const fact = 'fact' in condition ? conditionWords.facts[condition.fact] : '';
  const asked = 'choice' in condition ? words.asksChoice(choice?.title ?? '') : fact;
  await hand.choose(asks, asked.slice(0, 1).toUpperCase() + asked.slice(1));
  if ('fact' in condition) {
    await hand.pickIn(group, words.holds, 'isNot' in condition ? words.isNot : words.is);
  }
  for (const value of 'isNot' in condition ? condition.isNot : condition.is) {
    const shown =
      'fact' in condition
        ? factValue(condition.fact, value)
        : (choice?.options.find(({ id }) => id === value)?.label ?? value);
    await hand.tickIn(groupIn(group, words.values), shown, true);
  }
}

async function fillOnlyIf(job: StepJob, group: Locator): Promise<void> {
  const { hand, step, target } = job;
  const wanted = step.onlyIf ?? [];
  const conditions = groupIn(group, aroundWords.onlyIf);
  const lines = rows(conditions, '.editor-wait');
  while ((await lines.count()) > wanted.length) {
    await hand.tap(lines.last().getByRole('button'));
  }
  for (const [index, one] of wanted.entries()) {
    const add = conditions.getByRole('button', { name: aroundWords.addCondition, exact: true });
    if ((await lines.count()) <= index) {
      if (await add.isDisabled()) return;
      await hand.tap(add);
    }
    const line = lines.nth(index);
    const list = line.getByLabel(aroundWords.condition, { exact: true });
    const shown = onlyIfWords(target, base(one));
    const labels = await list.locator('option').allTextContents();
    if (!labels.includes(shown)) {
      await hand.tap(line.getByRole('button'));
      return;
    }
    await hand.choose(list, shown);
    if (!('wayBack' in one)) continue;
    const voided = line.getByLabel(stepFormWords.voided, { exact: true });
    if (one.voided === undefined) await hand.choose(voided, stepFormWords.voidedAny);
    else await chooseStep(job, voided, one.voided);
  }
}

const base = (one: OnlyIf): OnlyIf => ('wayBack' in one ? { wayBack: one.wayBack } : one);

export async function fillWaits(job: StepJob, sheet: Locator): Promise<void> {
  const { step, was, now, target } = job;
  const group = await opened(job, sheet, stepFormWords.waits);
  await fillAfter(job, group);
  if (step.action.kind === 'dwell') {
    await fillStepOrNone(job, group, { key: 'beginsWith', id: step.beginsWith });
  }
  const keys = (of: Step | null) => (of?.onlyIf ?? []).map(conditionKey);
  if (!isSameJson(keys(was), keys(step))) await fillOnlyIf(job, group);
  if (whereWords(was?.where, now) !== whereWords(step.where, target)) {
    await fillWhere(job, groupIn(group, stepFormWords.doneOnlyWhere), {
      had: was?.where?.length ?? 0,
      where: step.where,
      within: '',
    });
  }
}

/** The form of one step as a person finds its fields: by its groups, by their labels. For tests only. */
import type { Locator } from 'playwright-core';
import type { Protocol, Step } from '../../src/protocol/types.ts';
import { nameOfStep } from '../../src/ui/lead/editor/editor-step-names.ts';
import { fieldTexts } from '../../src/words/form-words.ts';
import type { Hand } from './build-family-hand.ts';

/** What the form of one step is filled from. */
export interface StepJob {
  readonly hand: Hand;
  /** The document that is to come out. */
  readonly target: Protocol;
  readonly step: Step;
  /** What the step says now; a new one has what the form begins with. */
  readonly was: Step | null;
  /** What the draft says now, under the ids of the target. */
  readonly now: Protocol;
}

export const label = <P extends Parameters<typeof fieldTexts>[0]>(
  part: P,
  key: Parameters<typeof fieldTexts<P>>[1],
): string => fieldTexts(part, key).label;

export function section(sheet: Locator, title: string): Locator {
  return sheet.locator('details').filter({
    has: sheet.page().locator('summary').getByText(title, { exact: true }),
  });
}

export async function opened(job: StepJob, sheet: Locator, title: string): Promise<Locator> {
  const group = section(sheet, title);
  const isOpen = await group.evaluate((e) => e instanceof HTMLDetailsElement && e.open);
  if (!isOpen) await job.hand.tap(group.locator('summary'));
  // Its fields come with the group's own event, a moment later.
  await group.locator(':scope > .editor-form').waitFor();
  return group;
}

export const groupIn = (place: Locator, name: string): Locator =>
  place.getByRole('group', { name, exact: true });

/** Chooses a step by what the list calls it. False where it is not there yet. */
export async function chooseStep(
  job: Pick<StepJob, 'hand' | 'target'>,
  list: Locator,
  id: string,
): Promise<boolean> {
  const { target, hand } = job;
  const labels = await list.locator('option').allTextContents();
  const title = target.steps.find((step) => step.id === id)?.title ?? id;
  const found = [nameOfStep(target.steps, id), title].find((name) => labels.includes(name));
  if (found === undefined) return false;
  await hand.choose(list, found);
  return true;
}

/** Rows of a list in a form, without those that stand deeper. */
export const rows = (group: Locator, css: string): Locator => group.locator(`:scope > ${css}`);

export async function fillStepOrNone(
  job: StepJob,
  group: Locator,
  o: { readonly key: 'beginsWith' | 'roundOf'; readonly id: string | undefined },
): Promise<void> {
  const texts = fieldTexts('steps', o.key);
  const list = group.getByLabel(texts.label, { exact: true });
  if (o.id === undefined) await job.hand.choose(list, texts.none ?? '');
  else await chooseStep(job, list, o.id);
}

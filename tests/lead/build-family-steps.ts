/** Fills the form of a step by its labels until it says what a document says of that step. For tests only. */
import type { Locator } from 'playwright-core';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import type { Pressing, Protocol, Step } from '../../src/protocol/types.ts';
import { STEP_GROUPS } from '../../src/ui/lead/editor/editor-step.ts';
import { nameOfStep } from '../../src/ui/lead/editor/editor-step-names.ts';
import { aroundWords } from '../../src/words/around-words.ts';
import { choiceWords, fieldTexts } from '../../src/words/form-words.ts';
import { pressingWords } from '../../src/words/pressing-words.ts';
import { protocolWords } from '../../src/words/protocol-words.ts';
import { stepFormWords } from '../../src/words/step-form-words.ts';
import { fillAsked } from './build-family-asked.ts';
import {
  chooseStep,
  fillStepOrNone,
  groupIn,
  label,
  opened,
  type StepJob,
} from './build-family-form.ts';
import type { Hand } from './build-family-hand.ts';
import { typeAsked } from './build-family-numbers.ts';
import { fillWaits } from './build-family-waits.ts';

async function fillWhat(job: StepJob, sheet: Locator): Promise<void> {
  const { hand, step, target } = job;
  const group = await opened(job, sheet, stepFormWords.what);
  await hand.typeIn(group, label('steps', 'title'), step.title);
  await hand.typeIn(group, label('steps', 'instruction'), step.instruction);
  await hand.typeIn(group, label('steps', 'why'), step.why);
  const stage = target.stages.find(({ id }) => id === step.stage)?.title ?? step.stage;
  await hand.chooseIn(group, label('steps', 'stage'), stage);
  await hand.pickIn(group, label('steps', 'per'), protocolWords.scopes[step.per]);
  await hand.pickIn(group, label('steps', 'by'), protocolWords.roles[step.by]);
  const { field, earlier } = step;
  const texts = { field: fieldTexts('steps', 'field'), earlier: fieldTexts('steps', 'earlier') };
  const fieldIs = field === undefined ? texts.field.none : choiceWords('steps', 'field', field);
  await hand.pickIn(group, texts.field.label, fieldIs ?? '');
  const done =
    earlier === undefined ? texts.earlier.none : choiceWords('steps', 'earlier', earlier);
  await hand.pickIn(group, texts.earlier.label, done ?? '');
  await hand.tickIn(group, label('steps', 'optional'), step.optional === true);
  await hand.tickIn(group, label('steps', 'mayHurt'), step.mayHurt === true);
}

async function fillPressed(job: StepJob, sheet: Locator): Promise<void> {
  const { hand, step } = job;
  const group = await opened(job, sheet, stepFormWords.pressed);
  await hand.tickIn(group, label('steps', 'together'), step.together === true);
  if (step.action.kind === 'dwell') {
    await hand.tickIn(group, stepFormWords.hands, step.hands !== undefined);
    await typeAsked(hand, group, figuresOf({ ...job.target, steps: [step], windows: [] }));
  }
  await fillStepOrNone(job, group, { key: 'roundOf', id: step.roundOf });
  const ways = groupIn(group, pressingWords.title).first();
  const kind = step.pressed?.kind ?? 'each';
  const way = ways.getByRole('radio', { name: pressingWords.ways[kind], exact: true });
  if ((await way.count()) === 0) return;
  await hand.tick(way, true);
  if (step.pressed !== undefined) await fillWay(job, ways, step.pressed);
}

async function fillWay(job: StepJob, group: Locator, pressed: Pressing): Promise<void> {
  const { hand, step, target } = job;
  switch (pressed.kind) {
    case 'list': {
      const list = target.lists?.find(({ id }) => id === pressed.list)?.title ?? '';
      return hand.chooseIn(group, pressingWords.list, list);
    }
    case 'sweep': {
      if (step.beginsWith === undefined) {
        await hand.tickIn(group, pressingWords.atStart, pressed.start !== undefined);
      }
      return hand.tickIn(group, pressingWords.atEnd, pressed.end !== undefined);
    }
    case 'implied': {
      if (pressed.by.includes(step.id)) return;
      const labels = await group.locator('label:has(input[type="checkbox"])').allTextContents();
      const names = pressed.by.map((id) => nameOfStep(target.steps, id));
      await hand.tickAll(group, {
        had: await hand.ticked(group),
        wanted: names.filter((name) => labels.includes(name)),
      });
      return;
    }
    case 'paced': {
      const list = group.getByLabel(pressingWords.confirmedBy, { exact: true });
      if (pressed.confirmedBy === undefined) return hand.choose(list, pressingWords.ownPress);
      await chooseStep(job, list, pressed.confirmedBy);
      return;
    }
  }
}

async function fillUses(job: StepJob, sheet: Locator): Promise<void> {
  const { hand, step, target, now, was } = job;
  const group = await opened(job, sheet, stepFormWords.uses);
  await hand.tickIn(group, label('steps', 'usesLight'), step.usesLight === true);
  const materials = groupIn(group, stepFormWords.materials);
  const slot = (of: Protocol) => (id: string) =>
    of.slots.find((each) => each.id === id)?.label ?? id;
  await hand.tickAll(materials, {
    had: await stillTicked(hand, materials, (was?.uses ?? []).map(slot(now))),
    wanted: (step.uses ?? []).map(slot(target)),
  });
  const cautions = groupIn(group, aroundWords.cautionsOfStep);
  const words = (of: Protocol) => (id: string) =>
    of.cautions.find((each) => each.id === id)?.words ?? id;
  await hand.tickAll(cautions, {
    had: await stillTicked(hand, cautions, (was?.cautions ?? []).map(words(now))),
    wanted: (step.cautions ?? []).map(words(target)),
  });
}

/** What was ticked and is there still, in its order: what the protocol lost since was taken off with it. */
async function stillTicked(
  hand: Hand,
  group: Locator,
  had: readonly string[],
): Promise<readonly string[]> {
  const shown = await hand.ticked(group);
  return [
    ...had.filter((name) => shown.includes(name)),
    ...shown.filter((name) => !had.includes(name)),
  ];
}

async function fillTexts(job: StepJob, sheet: Locator): Promise<void> {
  const { hand, step } = job;
  const group = await opened(job, sheet, stepFormWords.bar);
  for (const key of ['start', 'end', 'leaves'] as const) {
    await hand.typeIn(group, label('barWords', key), step.words?.[key]);
  }
  for (const key of ['start', 'end'] as const) {
    await hand.typeIn(group, label('someWords', key), step.some?.words?.[key]);
  }
  await hand.typeIn(group, label('some', 'instruction'), step.some?.instruction);
}

/** The groups of a step's form, in the order in which they are filled. */
const GROUPS: readonly {
  readonly keys: readonly (keyof Step)[];
  readonly fill: (job: StepJob, sheet: Locator) => Promise<void>;
}[] = [
  { keys: [...STEP_GROUPS.what, ...STEP_GROUPS.flags], fill: fillWhat },
  { keys: STEP_GROUPS.asked, fill: fillAsked },
  { keys: STEP_GROUPS.waits, fill: fillWaits },
  { keys: STEP_GROUPS.pressed, fill: fillPressed },
  { keys: STEP_GROUPS.uses, fill: fillUses },
  { keys: STEP_GROUPS.texts, fill: fillTexts },
];

/** Fills the groups in which `differs` says that a field of the step is not yet as it should be. */
export async function fillStep(
  job: StepJob,
  sheet: Locator,
  differs: (key: keyof Step) => boolean,
): Promise<void> {
  for (const { keys, fill } of GROUPS) {
    if (keys.some(differs)) await fill(job, sheet);
  }
}

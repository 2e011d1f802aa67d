/**
 * Builds a protocol at the lead's desk as a person does it: by taps and by typing, from a blank draft or
 * a copy, until the draft says what a document says. What the draft says is read from the file that the
 * desk exports. For tests only.
 */
import { readFile } from 'node:fs/promises';
import type { Locator, Page } from 'playwright-core';
import { isRecord } from '../../src/base/json.ts';
import { diffProtocols } from '../../src/protocol/diff.ts';
import { entriesIn } from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol, Step } from '../../src/protocol/types.ts';
import { nameOfStep } from '../../src/ui/lead/editor/editor-step-names.ts';
import { aroundWords } from '../../src/words/around-words.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { familyWords } from '../../src/words/family-words.ts';
import { leadWords } from '../../src/words/lead-words.ts';
import { materialWord, restorationWord } from '../../src/words/material-words.ts';
import { stepFormWords } from '../../src/words/step-form-words.ts';
import { differences, idsBetween, renamed } from './build-family-compare.ts';
import { groupIn, label } from './build-family-form.ts';
import { Hand } from './build-family-hand.ts';
import { setNumbers } from './build-family-numbers.ts';
import { AFTER_STEPS, BEFORE_STEPS, type PartForm, type PartJob } from './build-family-parts.ts';
import { fillStep } from './build-family-steps.ts';

/** More rounds than this mean that something cannot be reached by taps. */
const ROUNDS_MAX = 8;

interface Goal {
  readonly page: Page;
  readonly target: Protocol;
  /** What is copied; null for a blank beginning. */
  readonly copied: Protocol | null;
  /** The name that the draft begins under. */
  readonly title: string;
}

export interface Built {
  readonly taps: number;
  readonly keys: number;
  readonly protocol: Protocol;
  /** What still differs from the target under its ids; empty when all was built. */
  readonly left: readonly string[];
}

/** What a draft says, under the ids of the target. */
export function underIds(now: Protocol, target: Protocol): Protocol {
  return renamed(now, idsBetween(now, target)) as unknown as Protocol;
}

/** The document that was exported. */
async function exported(page: Page, title: string): Promise<Protocol> {
  await page.getByRole('link', { name: leadWords.back, exact: true }).click();
  const waits = page.waitForEvent('download');
  await page.getByRole('button', { name: leadWords.exportDraftName(title), exact: true }).click();
  const path = await (await waits).path();
  const file: unknown = JSON.parse(await readFile(path, 'utf8'));
  const parsed = parseProtocol(isRecord(file) ? file['protocol'] : null);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  await page.getByRole('link', { name: title, exact: true }).click();
  return parsed.value;
}

class Builder {
  readonly #goal: Goal;
  readonly hand: Hand;
  #title: string;

  constructor(goal: Goal) {
    this.#goal = goal;
    this.hand = new Hand(goal.page);
    this.#title = goal.title;
  }

  get #page(): Page {
    return this.#goal.page;
  }

  get #sheet(): Locator {
    return this.#page.getByRole('dialog');
  }

  async begin(): Promise<void> {
    const { copied, target } = this.#goal;
    const { begin } = familyWords;
    await this.hand.pressIn(this.#page, copied === null ? begin.blank : begin.copy);
    if (copied !== null) {
      await this.hand.chooseIn(this.#sheet, begin.source, begin.shipped(copied.title));
    }
    await this.hand.typeIn(this.#sheet, begin.title, this.#title);
    if (copied === null) await this.hand.typeIn(this.#sheet, begin.summary, target.summary);
    await this.hand.pressIn(this.#sheet, begin.begin);
    await this.#page.getByRole('heading', { name: this.#title, level: 1 }).waitFor();
  }

  async view(name: keyof typeof editorWords.view): Promise<void> {
    const radio = this.#page.getByRole('radio', { name: editorWords.view[name], exact: true });
    await this.hand.tick(radio, true);
  }

  /** Applies the form that is open; what it says is wrong ends the run. */
  async apply(what: string): Promise<void> {
    await this.hand.pressIn(this.#sheet, editorWords.apply);
    try {
      await this.#sheet.waitFor({ state: 'detached', timeout: 10_000 });
    } catch {
      const said = await this.#sheet.locator('.lw-field-problem').allTextContents();
      throw new Error(`${what}: not applied. ${said.join(' | ')}`);
    }
  }

  /** What the draft says now, under the ids of the target. */
  async read(): Promise<{ readonly own: Protocol; readonly job: PartJob }> {
    const { target } = this.#goal;
    const own = await exported(this.#page, this.#title);
    return { own, job: { hand: this.hand, target, now: underIds(own, target) } };
  }

  async head({ now, target }: PartJob): Promise<void> {
    const keys = ['summary', 'restorations', 'materials'] as const;
    if (keys.every((key) => differences(now[key], target[key]).length === 0)) return;
    await this.view('head');
    await this.hand.pressIn(this.#page, familyWords.head.editName);
    await this.hand.typeIn(this.#sheet, label('protocol', 'summary'), target.summary);
    await this.hand.tickAll(groupIn(this.#sheet, familyWords.head.restorations), {
      had: now.restorations.map(restorationWord),
      wanted: target.restorations.map(restorationWord),
    });
    await this.hand.tickAll(groupIn(this.#sheet, familyWords.head.materials), {
      had: (now.materials ?? []).map(materialWord),
      wanted: (target.materials ?? []).map(materialWord),
    });
    await this.apply('the head');
  }

  async part<T extends { readonly id: string }>(job: PartJob, form: PartForm<T>): Promise<void> {
    const items = (of: Protocol) =>
      (form.part === 'choices' ? (of.choices ?? []) : entriesIn(of, form.part)) as unknown as T[];
    const [had, wanted] = [items(job.now), items(job.target)];
    const list = this.#page.getByRole('list', { name: form.list, exact: true });
    for (const item of had.filter(({ id }) => wanted.every((each) => each.id !== id))) {
      await this.view(form.view);
      await this.hand.pressIn(list, editorWords.named.remove(form.name(item, job.now)));
      if (form.part !== 'waysBack') continue;
      await this.hand.typeIn(this.#sheet, aroundWords.takeOutReason, 'Not of this family');
      await this.hand.pressIn(this.#sheet, aroundWords.takeOut);
      await this.#sheet.waitFor({ state: 'detached' });
    }
    for (const item of wanted) {
      const was = had.find(({ id }) => id === item.id) ?? null;
      if (was !== null && differences(noNumbers(was), noNumbers(item)).length === 0) continue;
      await this.view(form.view);
      if (was === null) await this.hand.pressIn(this.#page, form.add);
      else await this.hand.pressIn(list, editorWords.named.edit(form.name(was, job.now)));
      await form.fill(job, this.#sheet, { item, was });
      await this.apply(form.name(item, job.target));
    }
  }

  async steps(job: PartJob): Promise<void> {
    const { now, target } = job;
    const list = this.#page.getByRole('list', { name: editorWords.stepsTitle, exact: true });
    for (const step of now.steps.filter(({ id }) => target.steps.every((s) => s.id !== id))) {
      await this.view('steps');
      await this.hand.pressIn(list, editorWords.named.remove(nameOfStep(now.steps, step.id)));
    }
    for (const [index, step] of target.steps.entries()) {
      const was = now.steps.find(({ id }) => id === step.id) ?? null;
      const differs = (key: keyof Step): boolean =>
        differences(noNumbers(was?.[key]), noNumbers(step[key])).length > 0;
      const keys = Object.keys({ ...was, ...step }) as (keyof Step)[];
      if (was !== null && !keys.some(differs)) continue;
      await this.view('steps');
      if (was === null) await this.#newStep(job, target.steps[index - 1]);
      else {
        await this.hand.pressIn(list, editorWords.named.edit(nameOfStep(now.steps, step.id)));
      }
      await fillStep({ ...job, step, was }, this.#sheet, was === null ? () => true : differs);
      await this.apply(step.title);
    }
  }

  async #newStep({ hand, target }: PartJob, before: Step | undefined): Promise<void> {
    await hand.pressIn(this.#page, editorWords.addStep);
    if (before === undefined) return;
    const place = this.#sheet.getByLabel(stepFormWords.standsAfter, { exact: true });
    const labels = await place.locator('option').allTextContents();
    const full = nameOfStep(target.steps, before.id);
    await hand.choose(place, labels.includes(full) ? full : before.title);
  }

  /** Puts steps where they belong, each in one move. */
  async order({ now, target }: PartJob): Promise<void> {
    const moved = diffProtocols(now, target).filter(
      (change) => change.kind === 'moved' && change.part === 'steps',
    );
    for (const step of target.steps.filter(({ id }) => moved.some((change) => change.id === id))) {
      await this.view('steps');
      const at = target.steps.indexOf(step);
      const before = target.steps[at - 1];
      const name = stepFormWords.putAfterName(nameOfStep(target.steps, step.id));
      await this.hand.pressIn(this.#page, name);
      await this.hand.pressIn(
        this.#sheet,
        before === undefined ? stepFormWords.first : nameOfStep(target.steps, before.id),
      );
      await this.#sheet.waitFor({ state: 'detached' });
    }
  }

  /** Puts the entries of a list in order, each by as many presses as it has places to rise. */
  async orderOf<T extends { readonly id: string }>(job: PartJob, form: PartForm<T>): Promise<void> {
    const items = (of: Protocol) =>
      (form.part === 'choices' ? (of.choices ?? []) : entriesIn(of, form.part)) as unknown as T[];
    const wanted = items(job.target);
    const order = [...items(job.now)];
    // One more or one less is not out of order: it comes or goes in another round.
    if (order.some(({ id }) => wanted.every((each) => each.id !== id))) return;
    for (const [at, { id }] of wanted.filter((w) => order.some((o) => o.id === w.id)).entries()) {
      let from = order.findIndex((each) => each.id === id);
      const item = order[from];
      if (item === undefined) continue;
      for (; from > at; from -= 1) {
        await this.view(form.view);
        const list = this.#page.getByRole('list', { name: form.list, exact: true });
        await this.hand.pressIn(list, editorWords.named.up(form.name(item, job.now)));
        order.splice(from - 1, 2, item, ...order.slice(from - 1, from));
      }
    }
  }

  async round(job: PartJob): Promise<void> {
    await this.head(job);
    for (const form of BEFORE_STEPS) await this.part(job, form as PartForm<{ id: string }>);
    await this.steps(job);
    await this.order(job);
    for (const form of [...BEFORE_STEPS, ...AFTER_STEPS]) {
      await this.orderOf(job, form as PartForm<{ id: string }>);
    }
    // What named a step that was removed went with it.
    const { job: then } = await this.read();
    for (const form of AFTER_STEPS) await this.part(then, form as PartForm<{ id: string }>);
  }
}

/** What a form shows: numbers are set in their own sheets, and only whether they are there counts here. */
function noNumbers(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(noNumbers);
  if (!isRecord(value)) return value;
  if ('value' in value && 'basis' in value) return undefined;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]) => {
      const left = noNumbers(inner);
      return left === undefined ? [] : [[key, left]];
    }),
  );
}

/** Where the draft and the target still differ, but for their names and ids. */
export function leftOf(now: Protocol, target: Protocol): readonly string[] {
  const plain = (of: Protocol) => ({ ...of, id: '', title: '', revision: 0 });
  return differences(plain(now), plain(target));
}

/** Builds until nothing differs, or nothing changes any more. */
export async function buildFamily(goal: Goal): Promise<Built> {
  const builder = new Builder(goal);
  await builder.begin();
  let left: readonly string[] = ['nothing read yet'];
  let own: Protocol | null = null;
  for (let round = 0; round < ROUNDS_MAX; round += 1) {
    const { job, own: read } = await builder.read();
    own = read;
    const next = leftOf(job.now, goal.target);
    if (next.length === 0 || next.join() === left.join()) {
      left = next;
      break;
    }
    left = next;
    if (process.env['LUTEWATCH_TELL'] === '1') console.log(`round ${round}: ${next.length} differ`);
    await builder.round(job);
    await setNumbers((await builder.read()).job);
  }
  if (own === null) throw new Error('Nothing was read.');
  return { taps: builder.hand.taps, keys: builder.hand.keys, protocol: own, left };
}

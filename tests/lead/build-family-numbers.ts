/** Sets the numbers of a draft in their sheets. For tests only. */
import type { Locator } from 'playwright-core';
import { entryText } from '../../src/protocol/duration-entry.ts';
import { figuresOf, type PlacedFigure } from '../../src/protocol/edit-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { nameOfStep } from '../../src/ui/lead/editor/editor-step-names.ts';
import { windowName } from '../../src/ui/lead/editor/editor-window-names.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { figureLabel, figureUnit } from '../../src/words/figure-words.ts';
import type { Hand } from './build-family-hand.ts';

interface NumbersJob {
  readonly hand: Hand;
  readonly target: Protocol;
  readonly now: Protocol;
}

const keyOf = ({ spot }: PlacedFigure): string => `${spot.part} ${spot.id} ${spot.key}`;

/** Types those numbers that a new step or window asks for in its own form. */
export async function typeAsked(
  hand: Hand,
  place: Locator,
  figures: readonly PlacedFigure[],
): Promise<void> {
  for (const placed of figures) {
    const label = editorWords.newNumber(figureLabel(placed.spot.key));
    const field = place.getByLabel(label, { exact: true });
    if ((await field.count()) === 1) await hand.type(field, typed(placed));
  }
}

/** What is typed for a number: "20 s", "5". */
function typed({ spot, figure }: PlacedFigure): string {
  return figureUnit(spot.key) === 'duration' ? entryText(figure.value) : String(figure.value);
}

/** The cell of a number. Where two steps have one title, the place among them tells which it is. */
function cellOf(job: NumbersJob, placed: PlacedFigure): Locator {
  const { title, spot } = placed;
  const named = figureLabel(spot.key);
  const twins = job.target.steps.filter((step) => step.title === title);
  const at = Math.max(
    0,
    twins.findIndex(({ id }) => id === spot.id),
  );
  const cells = (name: string): Locator => {
    const empty = editorWords.addNumber({ label: named, title: name });
    const names = new RegExp(`^(?:${escaped(`${name}, ${named}: `)}|${escaped(empty)}$)`);
    return job.hand.page.getByRole('button', { name: names });
  };
  const window = job.now.windows.find(({ id }) => spot.part === 'windows' && id === spot.id);
  if (window !== undefined) return cells(windowName(job.now, window));
  const apart = nameOfStep(job.target.steps, spot.id);
  return apart !== title ? cells(apart).or(cells(title).nth(at)).first() : cells(title).nth(at);
}

const escaped = (text: string): string => text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');

async function openPaces(job: NumbersJob): Promise<void> {
  const paces = job.hand.page.locator('details').filter({ hasText: editorWords.paceLede });
  const isOpen = await paces.evaluate((e) => e instanceof HTMLDetailsElement && e.open);
  if (!isOpen) await job.hand.tap(paces.locator('summary'));
}

/** Types every number that is not as it should be, and takes away those that should not be there. */
export async function setNumbers(job: NumbersJob): Promise<number> {
  const { hand, target, now } = job;
  const had = new Map(figuresOf(now).map((placed) => [keyOf(placed), placed]));
  const wanted = new Map(figuresOf(target).map((placed) => [keyOf(placed), placed]));
  const isThere = (part: string, id: string): boolean =>
    (part === 'steps' ? now.steps : now.windows).some((entry) => entry.id === id);
  const changed = [...wanted.values()].filter(
    (placed) =>
      had.get(keyOf(placed))?.figure.value !== placed.figure.value &&
      isThere(placed.spot.part, placed.spot.id),
  );
  const gone = [...had.values()].filter(
    (placed) =>
      !wanted.has(keyOf(placed)) &&
      [...target.steps, ...target.windows].some(({ id }) => id === placed.spot.id),
  );
  if (changed.length + gone.length === 0) return 0;
  await hand.tick(
    hand.page.getByRole('radio', { name: editorWords.view.numbers, exact: true }),
    true,
  );
  await openPaces(job);
  const sheet = hand.page.getByRole('dialog');
  for (const placed of changed) {
    await hand.tap(cellOf(job, placed));
    await hand.typeIn(sheet, editorWords.value, typed(placed));
    const practice = sheet.getByRole('radio', {
      name: editorWords.basisKind.practice,
      exact: true,
    });
    await hand.tick(practice, true);
    await hand.pressIn(sheet, editorWords.apply);
    await sheet.waitFor({ state: 'detached' });
  }
  for (const placed of gone) {
    await hand.tap(cellOf(job, placed));
    await hand.pressIn(sheet, editorWords.takeAway);
    await sheet.waitFor({ state: 'detached' });
  }
  return changed.length + gone.length;
}

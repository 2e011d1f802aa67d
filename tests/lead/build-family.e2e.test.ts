/**
 * A protocol is built at the desk by a person who never sees its JSON: in a real browser, by taps and typing
 * alone. What came out is read from the file that the desk exports, and held to the document that ships.
 */
import type { BrowserContext, Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkDocument } from '../../src/plan/check-windows.ts';
import { diffProtocols } from '../../src/protocol/diff.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { draftFindings } from '../../src/ui/lead/editor/editor-findings.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { json, sharedText } from '../protocol/documents.ts';
import { builtInBrowser } from '../tools/built-in-browser.ts';
import { isLong } from '../tools/run-size.ts';
import { type Built, buildFamily, underIds } from './build-family.ts';
import { differences } from './build-family-compare.ts';
import { openNewDesk } from './new-desk.ts';

const app = builtInBrowser();
let context: BrowserContext;
let page: Page;

beforeEach(async () => {
  context = await app.browser.newContext({
    viewport: { width: 1180, height: 820 },
    acceptDownloads: true,
    serviceWorkers: 'block',
  });
  page = await context.newPage();
  page.setDefaultTimeout(15_000);
  await openDesk();
});

afterEach(async () => {
  await context.close();
});

const openDesk = (): Promise<void> => openNewDesk(page, app.address);

function shipped(id: string): Protocol {
  const parsed = parseProtocol(json(sharedText(`protocols/${id}.json`)));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

const told = (what: string, { taps, keys }: Built): void =>
  console.log(`${what}: ${taps} taps, ${keys} keystrokes`);

/** The changes that the desk would show between what was built and what ships, under the same ids, but for bases. */
function shownChanges(built: Protocol, target: Protocol): readonly string[] {
  const own = { ...underIds(built, target), title: target.title };
  return diffProtocols(own, target).flatMap((change) => {
    const what = `${change.kind} ${change.part} ${change.id}`;
    if (change.kind !== 'changed') return [what];
    const isBasis = change.key === 'basis' || differences(change.before, change.after).length === 0;
    return isBasis ? [] : [`${what} ${change.key}`];
  });
}

/** What the page says that the checks found, faults first. */
async function shownFindings(): Promise<readonly string[]> {
  const none = page.getByText(editorWords.noFindings, { exact: true });
  const list = page.locator('.editor-findings li');
  await none.or(list.first()).waitFor({ state: 'attached' });
  const texts = await page.locator('.editor-findings li > p').allTextContents();
  return texts.map((text) => text.replaceAll('\u00a0', ' '));
}

/** Nothing of the two documents differs but ids and bases, and the checks say no more than of what ships. */
async function expectSame(built: Built, target: Protocol): Promise<void> {
  expect(built.left).toEqual([]);
  expect(shownChanges(built.protocol, target)).toEqual([]);
  const checked = (protocol: Protocol) => checkDocument(protocol).map(({ code }) => code);
  expect(checked(built.protocol)).toEqual(checked(target));
  const expected = draftFindings(target, []).map(({ level, words }) =>
    `${level === 'error' ? editorWords.fault : editorWords.caution} ${words}`.replaceAll(
      '\u00a0',
      ' ',
    ),
  );
  expect(await shownFindings()).toEqual(expected);
}

/** The words of the page of changes; a person is shown no JSON there. */
async function expectNoJson(): Promise<void> {
  await page.getByRole('radio', { name: editorWords.view.effect, exact: true }).check();
  const changes = page.getByRole('list', { name: editorWords.difference, exact: true });
  const texts = await changes.getByRole('listitem').allTextContents();
  expect(texts.length).toBeGreaterThan(5);
  expect(texts.filter((text) => /[{[]"|"\w+":/.test(text))).toEqual([]);
}

const inUse = <T extends { readonly id: string }>(
  entries: readonly T[] | undefined,
  ids: readonly (string | undefined)[],
): readonly T[] => (entries ?? []).filter(({ id }) => ids.includes(id));

/** The first steps of a document, with what they name and nothing else. */
function firstSteps(whole: Protocol, count: number): Protocol {
  const steps = whole.steps.slice(0, count);
  const lists = steps.map(({ pressed }) => (pressed?.kind === 'list' ? pressed.list : undefined));
  return {
    ...whole,
    steps,
    windows: [],
    waysBack: [],
    sources: [],
    stages: inUse(
      whole.stages,
      steps.map(({ stage }) => stage),
    ),
    slots: inUse(
      whole.slots,
      steps.flatMap(({ uses = [] }) => uses),
    ),
    cautions: inUse(
      whole.cautions,
      steps.flatMap((step) => step.cautions ?? []),
    ),
    lists: inUse(whole.lists, lists),
  };
}

describe.runIf(!isLong)('a part of a family', () => {
  it('is built from blank by taps and typing', { timeout: 120_000 }, async () => {
    const target = firstSteps(shipped('preparation'), 7);
    const built = await buildFamily({ page, target, copied: null, title: 'Preparation, by hand' });
    told('the first steps of the preparation', built);
    await expectSame(built, target);
    await expectNoJson();
  });
});

describe.runIf(isLong)('a family', () => {
  const ONLAY = 'glass-ceramic-onlay-crown-dual-cured';
  const VENEERS = 'thin-veneers-separate-bottle-etch-and-rinse';
  const TWO = [
    ['preparation', null],
    ['composite-inlay-onlay-dual-cured', ONLAY],
  ] as const;
  /** The others take some twelve minutes more. */
  const OTHERS = [
    ['finishing-visit', null],
    [VENEERS, null],
    ['thin-veneers-universal-selective-etch', VENEERS],
    ['zirconia-crown-wing-bridge-dual-cured', ONLAY],
  ] as const;
  const isAll = process.env['LUTEWATCH_ALL_FAMILIES'] === '1';
  it.each(isAll ? [...TWO, ...OTHERS] : TWO)(
    '%s is built by taps and typing, from %s',
    { timeout: 1_800_000 },
    async (id, from) => {
      const target = shipped(id);
      const copied = from === null ? null : shipped(from);
      const built = await buildFamily({ page, target, copied, title: `Built by hand: ${id}` });
      told(id, built);
      await expectSame(built, target);
      await expectNoJson();
    },
  );
});

/**
 * The app built in the pseudo-language, at tablet size, both ways up: what is drawn outside its
 * brackets was never handed to a translator, and what is cut has no room for a longer language.
 * Protocols come translated by the same build; only what their documents know each other by is data,
 * and so are texts of cases, which stay as they were written.
 */
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PUBLISHED_VISITS } from '../../src/plan/published-visits.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { toldTexts } from '../../src/protocol/told-texts.ts';
import { launchBrowser } from '../tools/browser.ts';
import { buildApp, type Served, serveBuilt } from '../tools/built-app.ts';
import { isLong } from '../tools/run-size.ts';
import { dataTexts, judgeTexts, LOOKS, textsOn, unspoken } from './pseudo-look.ts';

const SIZES = [
  { width: 1180, height: 820 },
  { width: 820, height: 1180 },
] as const;
const ROOT = fileURLToPath(new URL('../../', import.meta.url));

let served: Served;
let browser: Browser;
let data: readonly RegExp[];
let outDir = '';

async function stringsOf(folder: string): Promise<readonly string[]> {
  const names = (await readdir(join(ROOT, folder))).filter((name) => name.endsWith('.json'));
  const found: string[] = [];
  const walk = (value: unknown): void => {
    if (typeof value === 'string') found.push(value);
    else if (typeof value === 'object' && value !== null) Object.values(value).forEach(walk);
  };
  for (const name of names) walk(JSON.parse(await readFile(join(ROOT, folder, name), 'utf8')));
  return found;
}

/** Every text that a shipped protocol has for people: each is translated, and none of them is data. */
async function toldInProtocols(): Promise<ReadonlySet<string>> {
  const folder = join(ROOT, 'shared/protocols');
  const names = (await readdir(folder)).filter((name) => name.endsWith('.json'));
  const texts = names.map(async (name) => {
    const read = parseProtocol(JSON.parse(await readFile(join(folder, name), 'utf8')));
    return read.ok ? toldTexts(read.value) : [];
  });
  return new Set((await Promise.all(texts)).flat());
}

beforeAll(async () => {
  outDir = await mkdtemp(join(tmpdir(), 'lutewatch-pseudo-'));
  await buildApp({ outDir, env: { LUTEWATCH_PSEUDO: '1' } });
  served = await serveBuilt({ dir: outDir });
  browser = await launchBrowser();
  const documents = ['shared/protocols', 'shared/first-look'];
  const written = (await Promise.all(documents.map(stringsOf))).flat();
  const told = await toldInProtocols();
  expect(told.size).toBeGreaterThan(500);
  const folders = ['demo-data/cases', 'demo-data'];
  const cases = (await Promise.all(folders.map(stringsOf))).flat();
  // Citations stay as they are in every language.
  const cited = PUBLISHED_VISITS.map(({ source }) => source);
  data = dataTexts([...written.filter((text) => !told.has(text)), ...cases, ...cited]);
}, 300_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
  await rm(outDir, { recursive: true, force: true });
});

test('the check finds a text that was never handed to a translator, and one that is cut', async () => {
  const page = await browser.newPage({ viewport: SIZES[0] });
  await page.setContent(`<main><p>⟦Pĺááň⟧ 12 s</p><p>Raw English</p>
    <p style="width:30px;overflow:hidden;white-space:nowrap">⟦Áĺĺ šťéépš ďóňé⟧</p></main>`);
  const { raw, cut } = judgeTexts(await textsOn(page), []);
  await page.close();
  expect(raw).toEqual(['Raw English']);
  expect(cut).toEqual(['⟦Áĺĺ šťéépš ďóňé⟧']);
});

test('what is put into a text is looked at too', () => {
  const data = dataTexts(['Eight upper veneers', 'Gel on {subject}', 'etch']);
  expect(unspoken('Eight upper veneers', data)).toBe('');
  expect(unspoken('Gel on 12, 11', data)).toBe('');
  expect(unspoken('⟦Pĺááň óf⟧: mix 1', data)).toContain('mix');
  expect(unspoken('etch', data)).toBe('etch');
  // The engine tells the names of a date in the language of the page; a name alone is a text.
  expect(unspoken('Sun 29 Nov 2026, 09:00', data)).toBe('');
  expect(unspoken('Nov', data)).toBe('Nov');
  expect(unspoken('Sunday 29 November', data)).not.toBe('');
});

describe.each(SIZES)('in the pseudo-language at $width by $height', (viewport) => {
  // Every second place, in one of the two; all of them in both in the long run.
  const looks = LOOKS.filter((_, n) => isLong || (n % 2 === 0 && SIZES[(n / 2) % 2] === viewport));
  test.each(looks)('$name has no raw English, and nothing is cut', async ({ open }) => {
    const context = await browser.newContext({ viewport });
    const page: Page = await context.newPage();
    await page.goto(served.address);
    await page.locator('main h1').first().waitFor();
    await open(page);
    const { raw, cut, wide } = judgeTexts(await textsOn(page), data);
    await context.close();
    expect.soft(raw).toEqual([]);
    expect.soft(cut).toEqual([]);
    expect(wide).toBe(false);
  });
});

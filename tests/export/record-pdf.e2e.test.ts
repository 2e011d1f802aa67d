/**
 * The record on paper and out of the tablet: prints the record page of a finished rehearsal, reads the file back with an
 * outside reader (pdf.js) and compares its words with the facts of the same journal.
 */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CaseLog } from '../../src/engine/log.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { journalsIn } from '../../src/export/journals-json.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { RecordFacts } from '../../src/export/record-types.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { finished, followed, sourceOf } from './journals.ts';

interface Paper {
  readonly text: string;
  /** Width and height of each page, in points of 1/72 inch. */
  readonly sizes: readonly (readonly [number, number])[];
}

let served: Served;
let browser: Browser;
let seedCode = '';

/** The seeding code as one classic script. */
async function buildSeed(): Promise<string> {
  const entry = fileURLToPath(new URL('seed/seed-journal.ts', import.meta.url));
  const built = await build({
    configFile: false,
    logLevel: 'warn',
    build: { write: false, target: 'es2022', lib: { entry, formats: ['iife'], name: 'seed' } },
  });
  const outputs = [built].flat().flatMap((b) => ('output' in b ? b.output : []));
  return outputs.flatMap((o) => (o.type === 'chunk' ? [o.code] : [])).join('\n');
}

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
  seedCode = await buildSeed();
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** The record page of a case that was stored before the application started. */
async function recordPage(log: CaseLog, caseId: string): Promise<Page> {
  const context = await browser.newContext({ timezoneId: 'UTC', locale: 'en-GB' });
  const page = await context.newPage();
  // A file of the same origin that starts no application.
  await page.goto(`${served.address}manifest.webmanifest`);
  await page.addScriptTag({ content: seedCode });
  const seeded = await page.evaluate(([id, records]) => window.seedJournal(id, records), [
    caseId,
    log.records,
  ] as const);
  expect(seeded).toBe(log.records.length);
  await page.goto(`${served.address}record/${caseId}`);
  // The plan to compare with is worked out away from the screen.
  await page.locator('article.record [data-planned="true"]').waitFor();
  return page;
}

const bare = (text: string): string => text.normalize('NFKC').replaceAll(/\s/g, '');

/** What a reader of the file sees, without spaces: how lines are broken is up to the paper. */
async function readPdf(bytes: Uint8Array): Promise<Paper> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const texts: string[] = [];
  const sizes: [number, number][] = [];
  for (let n = 1; n <= pdf.numPages; n += 1) {
    const page = await pdf.getPage(n);
    const { items } = await page.getTextContent();
    texts.push(items.map((item) => ('str' in item ? item.str : '')).join(''));
    const [left = 0, bottom = 0, right = 0, top = 0] = page.view;
    sizes.push([right - left, top - bottom]);
  }
  await pdf.destroy();
  return { text: bare(texts.join('')), sizes };
}

const clock = (utc: string): string => utc.slice(11, 19);

/** What the paper must say, each with a name for the message. */
function expected(facts: RecordFacts): [string, string][] {
  const steps = facts.steps.flatMap((s): [string, string][] => [
    [`title of ${s.key}`, s.title],
    ...(s.end ? [[`end of ${s.key}`, clock(s.end.at.fromUtc)] as [string, string]] : []),
  ]);
  return [
    ['chart', facts.chartRef],
    ['title', facts.title],
    ['rehearsal', 'no patient was treated'],
    ['protocol', facts.protocol.title],
    ['hash of the protocol', facts.protocol.hash],
    ['head of the chain', facts.chain.head ?? 'none'],
    ['light', `${facts.light.irradianceMwPerCm2}`],
    ['plan', `protocol revision ${facts.protocol.revision}, at the paces`],
    ['lanes of the picture', 'As it went, against the plan'],
    ...facts.mixes.map((_, n): [string, string] => ['lane of a portion', `Portion ${n + 1}`]),
    ...facts.materials.map((m): [string, string] => ['lot', m.lot ?? m.label]),
    ...facts.people.map((p): [string, string] => ['person', p.label]),
    ...facts.units.map((u): [string, string] => ['unit', u.id]),
    ...steps,
    ...facts.windows.map((w): [string, string] => [`window ${w.window}`, w.title]),
    ...facts.waysBack.map((w): [string, string] => ['way back', w.reason]),
    ...facts.notes.map((n): [string, string] => ['note', n.words]),
    ...facts.breaches.map((b): [string, string] => [`breach ${b.of}`, clock(b.at.fromUtc)]),
    ...facts.corrections.map((c): [string, string] => ['correction', clock(c.pressed.pressedUtc)]),
  ];
}

// ISO 216 A4 is 210 mm x 297 mm; ANSI/ASME Y14.1 A (Letter) is 8.5 in x 11 in.
const PAPERS = [
  ['A4', [(210 / 25.4) * 72, (297 / 25.4) * 72]],
  ['Letter', [612, 792]],
] as const;

describe('the record on paper', () => {
  it.each([
    ['an eventful case', () => finished().log],
    ['two veneers with the shipped template', () => followed('two-veneers').log],
  ])('says what the journal says, as text, on A4 and Letter: %s', async (_, make) => {
    const log = make();
    const facts = recordFacts(sourceOf(log));
    const page = await recordPage(log, facts.caseId);
    // The page shows the chain of this device: the epoch of its own writer is in the hashes.
    const head = (await page.locator('code').last().textContent()) ?? '';
    for (const [format, size] of PAPERS) {
      const paper = await readPdf(await page.pdf({ format, preferCSSPageSize: false }));
      for (const [width, height] of paper.sizes) {
        expect(Math.abs(width - size[0])).toBeLessThan(1);
        expect(Math.abs(height - size[1])).toBeLessThan(1);
      }
      const told = expected({ ...facts, chain: { ...facts.chain, head } });
      const missing = told.filter(([, words]) => !paper.text.includes(bare(words)));
      expect(missing, format).toEqual([]);
      expect(head).toMatch(/^[0-9a-f]{64}$/);
      // What is for the screen only stays there.
      expect(paper.text).not.toContain(bare('Print or save as PDF'));
    }
    await page.context().close();
  });
});

describe('a signed case on a patient', () => {
  it('keeps a late note whose page is left in the moment in which it is pressed', async () => {
    const page = await recordPage(finished().log, 'left');
    await page.locator('summary', { hasText: 'Add a note' }).click();
    await page.getByLabel('Note', { exact: true }).fill('Left at once');
    await page.getByRole('button', { name: 'Add note' }).evaluate((button: HTMLButtonElement) => {
      button.click();
      location.reload();
    });
    await page.locator('.record-notes').getByText('Left at once').waitFor();
    await page.context().close();
  });

  it('takes a late note, and leaves the tablet with all that was not exported', async () => {
    const log = finished().log;
    const records = log.records.map((r) =>
      r.event.type === 'case-opened'
        ? { ...r, event: { ...r.event, mode: 'patient' as const } }
        : r,
    );
    const page = await recordPage({ ...log, records }, 'signed');
    await page.locator('summary', { hasText: 'Add a note' }).click();
    await page.getByLabel('Note', { exact: true }).fill('No catch at the margins');
    await page.getByRole('button', { name: 'Add note' }).click();
    await page.locator('.record-notes').getByText('No catch at the margins').waitFor();

    await page.getByRole('link', { name: 'Record', exact: true }).click();
    await page.getByRole('button', { name: 'Export all not yet exported' }).click();
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the file' }).click(),
    ]);
    await page.getByText('Every closed case has been exported as it stands.').waitFor();
    const [own] = journalsIn(await readFile(await file.path(), 'utf8'))?.journals ?? [];
    const parsed = parseJournal(own?.text ?? '', { verify: verifyChain });
    expect(parsed).toMatchObject({ ok: true, value: { caseId: 'signed', problems: [] } });
    const last = parsed.ok ? parsed.value.entries.at(-1)?.event : undefined;
    expect(last).toEqual({ type: 'note-added', words: 'No catch at the margins' });
    await page.context().close();
  });
});

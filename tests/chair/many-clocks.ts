/**
 * A made-up protocol and case for measurements only: thirty teeth with two running clocks each, and
 * light of one second after another, so that something becomes due once a second.
 */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { asFact, documentOf } from '../../src/runtime/facts/fact.ts';

const shared = (path: string): string =>
  fileURLToPath(new URL(`../../shared/protocols/${path}`, import.meta.url));
const demo = (path: string): string =>
  fileURLToPath(new URL(`../../demo-data/cases/${path}`, import.meta.url));

const TEETH = [1, 2, 3, 4]
  .flatMap((quadrant) => [1, 2, 3, 4, 5, 6, 7, 8].map((place) => `${quadrant}${place}`))
  .slice(0, 30);

const PRACTICE = { kind: 'practice', note: 'for measurements only' };
const figure = (value: number) => ({ value, basis: PRACTICE });
const PACE = { medianMs: figure(1000), p90Ms: figure(2000) };
const HOUR_MS = 3_600_000;
const LIGHT_MS = 1000;

export const MANY_TITLE = 'Thirty units with sixty clocks';
const PROTOCOL_ID = 'many-clocks';

const STEPS = [
  {
    id: 'wait',
    stage: 'opening',
    title: 'Wait',
    per: 'unit',
    after: [],
    by: 'assistant',
    pace: PACE,
    action: { kind: 'dwell', minMs: figure(HOUR_MS), targetMs: figure(HOUR_MS) },
    words: { start: 'Begin {subject}', end: 'End {subject}' },
  },
  {
    id: 'light',
    stage: 'opening',
    title: 'Light',
    per: 'unit',
    after: [{ step: 'wait', link: 'all', edge: 'start' }],
    by: 'assistant',
    pace: PACE,
    action: {
      kind: 'expose',
      surfaces: ['facial', 'incisal', 'lingual'],
      perSurfaceMs: figure(LIGHT_MS),
      walk: 'by-surface',
    },
    words: { start: 'Light on {subject}', end: 'Light off' },
  },
  {
    id: 'end',
    stage: 'opening',
    title: 'End',
    per: 'case',
    after: [{ step: 'light', link: 'all' }],
    by: 'assistant',
    pace: PACE,
    action: { kind: 'confirm' },
  },
];

const WINDOW = {
  id: 'open',
  title: 'Open',
  from: { step: 'wait', edge: 'start' },
  to: { step: 'wait', edge: 'end' },
  match: 'same',
  maxMs: figure(2 * HOUR_MS),
  protects: 'other',
  severity: 'note',
  why: 'For measurements only.',
};

async function readObject(path: string): Promise<Record<string, unknown>> {
  return JSON.parse(await readFile(path, 'utf8'));
}

/** The documents as the application keeps them. */
async function documents(): Promise<readonly { kind: string; id: string; value: unknown }[]> {
  const template = await readObject(shared('thin-veneers-separate-bottle-etch-and-rinse.json'));
  const { teeth: _, ...sample } = await readObject(demo('eight-upper-veneers.json'));
  const protocol = {
    ...template,
    id: PROTOCOL_ID,
    title: MANY_TITLE,
    steps: STEPS,
    windows: [WINDOW],
    waysBack: [],
  };
  const units = TEETH.map((tooth) => ({
    id: tooth,
    teeth: [tooth],
    restoration: 'veneer',
    material: 'lithium-disilicate',
    thicknessMm: 0.5,
    shade: 'light 1',
  }));
  const file = { ...sample, id: 'many-clocks', title: MANY_TITLE, protocol: PROTOCOL_ID, units };
  const plain = { after: [], tablet: 'test', by: null, atWallMs: 0 } as const;
  const written = { type: 'written', protocol };
  const prepared = { type: 'prepared', spec: file };
  return [
    documentOf(asFact({ ...plain, kind: 'protocol', item: PROTOCOL_ID, said: written })),
    documentOf(asFact({ ...plain, kind: 'prepared-case', item: 'many-clocks', said: prepared })),
  ];
}

/** Puts protocol and case into the database of the page's origin; the page is to be loaded anew. */
export async function storeManyClocks(page: Page): Promise<void> {
  await page.evaluate(
    async (found) => {
      const open = indexedDB.open('lutewatch');
      await new Promise((resolve, reject) => {
        open.onsuccess = resolve;
        open.onerror = reject;
      });
      const writing = open.result.transaction('documents', 'readwrite');
      for (const document of found) {
        writing.objectStore('documents').put({ ...document, version: 1, epoch: 1 });
      }
      await new Promise((resolve, reject) => {
        writing.oncomplete = resolve;
        writing.onerror = reject;
      });
      open.result.close();
    },
    await documents(),
  );
}

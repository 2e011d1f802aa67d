/**
 * The screens of a case of another tablet in a real browser, both ways up: nothing is cut, nothing runs over the edge,
 * what is pressed with a glove is large enough, and axe finds nothing. Pictures lie in `.screens/pen`.
 */
import { mkdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { createServer, type ViteDevServer } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Command } from '../../src/engine/commands.ts';
import { replay } from '../../src/engine/log.ts';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import { summarise } from '../../src/storage/case-summary.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { Chair } from '../engine/chair.ts';
import { played } from '../mishaps/play.ts';
import { launchBrowser } from '../tools/browser.ts';
import { isLong } from '../tools/run-size.ts';
import type { PenShown } from './picture-page.tsx';

const SIZES = [
  { width: 1180, height: 820 },
  { width: 820, height: 1180 },
] as const;
/** What is pressed at the chair, with a glove; and what is pressed elsewhere. In CSS pixels, a design choice of this project. */
const LEAST_PX = { chair: 56, other: 48 } as const;

const A = { tablet: 'tablet-a', name: 'Chair 1' } as const;
const B = { tablet: 'tablet-b', name: 'Chair 2' } as const;

let server: ViteDevServer;
let browser: Browser;
let page: Page;

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

beforeAll(async () => {
  server = await createServer({
    root: here('../..'),
    server: { port: 0, host: '127.0.0.1', hmr: false },
    appType: 'custom',
    logLevel: 'warn',
    optimizeDeps: { entries: ['tests/pen/picture-page.tsx'] },
  });
  await server.listen();
  server.middlewares.use('/pen.html', (_, response) => {
    response.setHeader('Content-Type', 'text/html');
    void server
      .transformIndexHtml(
        '/pen.html',
        '<!doctype html><html lang="en"><title>Pen</title><meta name="viewport" content="width=device-width"><body><script type="module" src="/tests/pen/picture-page.tsx"></script></body></html>',
      )
      .then((html) => response.end(html));
  });
  browser = await launchBrowser();
  // axe-core looks only at pages of a context of their own.
  const context = await browser.newContext({ viewport: SIZES[0] });
  page = await context.newPage();
  page.on('pageerror', (fault) => console.error(fault.message));
  await page.goto(`${server.resolvedUrls?.local[0] ?? ''}pen.html`);
  await page.waitForFunction(() => 'showPen' in window, undefined, { timeout: 60_000 });
  await mkdir(here('../../.screens/pen'), { recursive: true });
}, 120_000);

afterAll(async () => {
  await browser.close();
  await server.close();
});

/** Cement is out: as full as the chair gets. Opened on Chair 2, of a patient. */
function atCement(commands: readonly (Command | 'settle')[] = []): PenShown {
  const { log, stamp } = played('two-veneers', 'to end seat 11\nthen look');
  const records = log.records.map((r) =>
    r.event.type === 'case-opened'
      ? { ...r, event: { ...r.event, tablet: B.tablet, mode: 'patient' as const } }
      : r,
  );
  const chair = Object.create(Chair.prototype) as Chair;
  Object.defineProperty(chair, 'stamp', { value: stamp });
  chair.log = replay(records);
  for (const command of commands) {
    const gap = chair.log.state.gaps.at(-1)?.seq ?? -1;
    const settle = { do: 'settle-gap', gap, lengthMs: 5000 } as const;
    const no = chair.do(command === 'settle' ? settle : command);
    if (no) throw new Error(no.code);
  }
  const about = { caseId: 'case-1', epoch: 1, prev: NO_ENTRY_HASH };
  const entries = chainEntries(chair.log.records, about);
  const row = {
    device: 'device-b',
    tablet: B.tablet,
    name: B.name,
    isThis: false,
    standing: 'paired',
    lastContactWallMs: stamp.wallMs - 3000,
    owes: 0,
    runs: { caseId: 'case-1', title: 'Two veneers' },
  } as const;
  const third = {
    ...row,
    device: 'device-c',
    tablet: 'tablet-c',
    name: 'Surgery upstairs',
    runs: null,
  };
  return {
    path: '/chair',
    entries,
    stamp,
    isViewOnly: true,
    isStale: false,
    tablet: A.tablet,
    sharing: {
      ...NOT_SHARING,
      standing: 'paired',
      name: A.name,
      line: 'open',
      tablets: [row, third],
    },
    cases: [summarise(null, entries)],
    secondEnds: [],
    ends: [],
  };
}

const silent = (shown: PenShown): PenShown => ({
  ...shown,
  isStale: true,
  sharing: {
    ...shown.sharing,
    tablets: shown.sharing.tablets.map((t) => ({
      ...t,
      lastContactWallMs: shown.stamp.wallMs - 754_000,
    })),
  },
});

const give = (to: string | null): Command => ({
  do: 'give-pen',
  ...B,
  to,
  toName: to === null ? '' : A.name,
});
const take: Command = { do: 'take-pen', ...A, fromName: B.name, isHeard: true };

/** Two presses of Chair 2 that lie beside the taking. */
function withTwoEnds(shown: PenShown): PenShown {
  const at = shown.entries.findIndex((e) => e.event.type === 'pen-taken');
  const common = shown.entries.slice(0, at);
  const last = common.at(-1);
  const from = common.length;
  const records = [1, 2].map((n) => ({
    seq: from + n - 1,
    press: (last?.press ?? 0) + n,
    stamp: shown.stamp,
    by: 'dentist-a',
    event: { type: 'note-added', words: `pressed on, ${n}` } as const,
  }));
  const about = { caseId: 'case-1', epoch: 1, prev: last?.hash ?? NO_ENTRY_HASH };
  const entries = chainEntries(records, about);
  return {
    ...shown,
    isViewOnly: false,
    secondEnds: [{ caseId: 'case-1', ...B, presses: 2, hasPen: true }],
    ends: [{ ...B, entries }],
  };
}

const LOOKS: readonly {
  readonly name: string;
  readonly shown: () => PenShown;
  readonly press?: readonly string[];
  readonly wait: string;
}[] = [
  { name: 'chair-looked-on', shown: atCement, wait: 'This case runs on Chair 2. Press there.' },
  {
    name: 'chair-given',
    shown: () => atCement([give(A.tablet)]),
    wait: 'Chair 2 gave this case up to this tablet.',
  },
  { name: 'chair-silent', shown: () => silent(atCement()), wait: 'Take over here' },
  {
    name: 'chair-take-over',
    shown: () => silent(atCement()),
    press: ['Take over here'],
    wait: 'Why is it taken over?',
  },
  {
    name: 'chair-how-long',
    shown: () => ({ ...atCement([give(null), take]), isViewOnly: false }),
    wait: 'Time away',
  },
  {
    name: 'chair-two-ends',
    shown: () => withTwoEnds(atCement([give(null), take, 'settle'])),
    wait: 'TWO ENDS',
  },
  {
    name: 'chair-give',
    shown: () => ({ ...atCement([give(A.tablet), take]), isViewOnly: false }),
    press: ['More', 'Give to another tablet'],
    wait: 'Whoever takes it',
  },
  { name: 'today', shown: () => ({ ...atCement(), path: '/' }), wait: 'On other tablets' },
  {
    name: 'today-given',
    shown: () => ({ ...atCement([give(null)]), path: '/' }),
    wait: 'Take the case here',
  },
  {
    name: 'record',
    shown: () => ({ ...withTwoEnds(atCement([give(null), take])), path: '/record/case-1' }),
    wait: 'Second end',
  },
];

async function smallButtons(): Promise<readonly string[]> {
  return page.locator('.chair-pen button, dialog[open] button, .today-others button').evaluateAll(
    (all, least) =>
      all.flatMap((button) => {
        const { width, height } = button.getBoundingClientRect();
        const isChair = button.getAttribute('data-size') === 'chair';
        const leastPx = isChair ? least.chair : least.other;
        const isSmall = width < leastPx || height < leastPx;
        return isSmall ? [`${button.textContent}: ${width} x ${height}`] : [];
      }),
    LEAST_PX,
  );
}

/** Every run looks at each screen in one of the two orientations, the long run in both. */
const looksAt = (size: (typeof SIZES)[number]) =>
  LOOKS.filter((_, n) => isLong || SIZES[n % SIZES.length] === size);

describe.each(SIZES)('$width x $height', (size) => {
  it.each(looksAt(size))('$name', async ({ name, shown, press = [], wait }) => {
    await page.setViewportSize(size);
    await page.evaluate((given) => window.showPen(given), shown());
    await page.locator('main').first().waitFor();
    for (const button of press)
      await page.getByRole('button', { name: button, exact: true }).click();
    await page.getByText(wait).first().waitFor();
    await page.waitForTimeout(400);
    const full = name === 'record';
    const path = here(`../../.screens/pen/${name}-${size.width}.png`);
    await page.screenshot({ path, fullPage: full });
    const over = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(over).toBeLessThanOrEqual(0);
    if (
      name.startsWith('chair-') &&
      press.length === 0 &&
      (await page.locator('.chair-pen').isVisible())
    ) {
      const bar = await page.locator('.chair-pen').boundingBox();
      expect((bar?.y ?? Infinity) + (bar?.height ?? 0)).toBeLessThanOrEqual(size.height + 1);
    }
    expect(await smallButtons()).toEqual([]);
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'])
      .analyze();
    const told = violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' | ')}`);
    expect(told).toEqual([]);
  });
});

/**
 * Two tablets of one clinic in real browsers, on the app as it ships, over a real server that `npm run clinic`
 * set up: the page of the tablets founds the clinic, lets the second one in, shares, tells what both told
 * differently, and puts one out. Nothing but the pages is used.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { serverSuite } from '../tools/nats-server.ts';

const CHECKOUT = fileURLToPath(new URL('../..', import.meta.url));
const CODE = /\b[0-9A-HJKMNP-TV-Z]{4}(?:[ -][0-9A-HJKMNP-TV-Z]{4}){3}\b/;
const PASSPHRASE = 'seven quiet boats at noon';
const SLOW_MS = 60_000;

async function until(what: string, holds: () => Promise<boolean> | boolean): Promise<void> {
  const endsAtMs = Date.now() + SLOW_MS;
  while (!(await holds())) {
    if (Date.now() > endsAtMs) throw new Error(`It never came to this: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

await serverSuite('two tablets by their pages', (server) => {
  let top: string;
  let terminal: ChildProcess;
  let said = '';
  let passed: { readonly wsPort: number; readonly publicDir: string };
  let served: Served;
  let browser: Browser;
  let first: Page;
  let second: Page;

  const tablet = async (): Promise<Page> => {
    const page = await (await browser.newContext()).newPage();
    page.setDefaultTimeout(SLOW_MS);
    await page.goto(served.address, { waitUntil: 'load' });
    return page;
  };
  const go = async (page: Page, path: string): Promise<void> => {
    await page.goto(`${served.address}${path}`, { waitUntil: 'load' });
  };
  const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
  const field = (page: Page, name: string) => page.getByRole('textbox', { name, exact: true });
  const joinAs = async (page: Page, o: { readonly code: string; readonly name: string }) => {
    await go(page, 'clinic/tablets');
    await field(page, 'Code').fill(o.code.toLowerCase());
    await field(page, 'Name of this tablet').first().fill(o.name);
    await button(page, 'Join').click();
  };

  beforeAll(async () => {
    top = await mkdtemp(join(tmpdir(), 'lutewatch-tablets-'));
    const atHand = join(top, 'at-hand.json');
    const tsx = join(CHECKOUT, 'node_modules/tsx/dist/cli.mjs');
    const script = join(CHECKOUT, '.ci/clinic.ts');
    const dir = join(top, 'clinic');
    terminal = spawn(process.execPath, [tsx, script, '--dir', dir, '--yes'], {
      env: { ...process.env, NATS_SERVER_BIN: server.path, LUTEWATCH_STORE_FILE: atHand },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    terminal.stdout?.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
    await until('the terminal shows a code', () => CODE.test(said));
    const { wsPort, publicDir } = JSON.parse(await readFile(atHand, 'utf8'));
    passed = { wsPort, publicDir };
    served = await serveBuilt({ store: passed });
    browser = await launchBrowser();
    first = await tablet();
    second = await tablet();
  });
  afterAll(async () => {
    await browser?.close();
    await served?.stop();
    if (terminal !== undefined && terminal.exitCode === null) {
      terminal.kill('SIGINT');
      await once(terminal, 'exit');
    }
    await rm(top, { recursive: true, force: true });
  });

  test('a tablet that is alone shows nothing of a store', async () => {
    await go(first, '');
    await first.getByRole('heading', { name: 'Today' }).waitFor();
    expect(await first.locator('.sharing-line').count()).toBe(0);
  });

  test('the first one founds the clinic, and has the box to print', async () => {
    await joinAs(first, { code: CODE.exec(said)?.[0] ?? '', name: 'Chair 1' });
    await first.getByLabel('Passphrase of the lead').fill(PASSPHRASE);
    await first.getByLabel('Repeat it').fill(PASSPHRASE);
    await button(first, 'Found the clinic').click();
    await first.getByText('The box as it is now is on no paper').waitFor();
    await first.getByText('DEMO store: for trying, not for patients').first().waitFor();
    await first.getByRole('link', { name: 'Print the box' }).click();
    const lines = first.locator('.box-groups > li');
    await lines.first().waitFor();
    expect(await lines.count()).toBeGreaterThan(10);
    await button(first, 'It is on paper and put away').click();
    await first.getByText('Noted.').waitFor();
    await go(first, 'clinic/tablets');
    await first.getByText('On paper or in a backup').waitFor();
  });

  test('the second one is let in by a code and the same six digits', async () => {
    await first.getByLabel('Passphrase of the lead').fill(`${PASSPHRASE}?`);
    await button(first, 'Show a code').click();
    await first.getByText('Passphrase: the lead’s expected, another one came.').waitFor();
    await first.getByLabel('Passphrase of the lead').fill(PASSPHRASE);
    await button(first, 'Show a code').click();
    const shown = first.getByRole('img', { name: /^Code:/ });
    await shown.waitFor();
    const code = (await shown.locator('span').allTextContents()).join(' ');
    expect(code).toMatch(CODE);
    await joinAs(second, { code, name: 'Chair 2' });
    const digits = (page: Page) => page.getByRole('img', { name: /^Six digits:/ });
    const [one, two] = [
      await digits(first).getAttribute('aria-label'),
      await digits(second).getAttribute('aria-label'),
    ];
    expect(one).toMatch(/^Six digits: (\d ?){6}$/);
    expect(two).toBe(one);
    await first.getByText('“Chair 2” asks to join.').waitFor();
    await button(first, 'Yes, the same').click();
    await first.getByText('Chair 2 takes part now.').waitFor();
    for (const page of [first, second]) {
      await page.getByRole('listitem', { name: 'Chair 1' }).waitFor();
      await page.getByRole('listitem', { name: 'Chair 2' }).waitFor();
      await page.getByText(/^Shared \d+\s\w+ ago$/).waitFor();
    }
  });

  test('the line stands on the other pages too', async () => {
    await go(second, '');
    await second.getByText(/^Shared \d+\s\w+ ago$/).waitFor();
    await second.getByText('DEMO store: for trying, not for patients').waitFor();
  });

  test('what both wrote while there was no line stands side by side; a choice holds on both', async () => {
    const note = async (page: Page, words: string): Promise<void> => {
      await button(page, 'Change the entry').click();
      await page.getByRole('dialog').getByRole('textbox', { name: 'Note' }).fill(words);
      await button(page, 'Save').click();
      await page.getByRole('dialog').waitFor({ state: 'detached' });
    };
    const pages = [first, second] as const;
    for (const page of pages) await go(page, 'materials/demo-acid');
    for (const page of pages) await button(page, 'Change the entry').waitFor();
    // The web server passes the store through: without it neither has a line.
    await served.stop();
    await note(first, 'left drawer');
    await note(second, 'right drawer');
    served = await serveBuilt({ port: served.port, store: passed });
    await go(first, 'clinic/tablets/conflicts');
    await first.getByRole('heading', { name: 'Etching gel, drawer 2, lot SB-4410' }).waitFor();
    await first.getByText('Note: left drawer').waitFor();
    const side = first.getByRole('listitem').filter({ hasText: 'Note: right drawer' });
    expect(await side.textContent()).toMatch(/On Chair 2, /);
    await side.getByRole('button').click();
    await first.getByText(/^Settled: Etching gel/).waitFor();
    await first.getByText('No two tablets tell anything differently.').waitFor();
    for (const page of pages) {
      await go(page, 'materials/demo-acid');
      await page
        .getByRole('definition')
        .filter({ hasText: /^right drawer$/ })
        .waitFor();
    }
    await go(second, 'clinic/tablets/conflicts');
    await second.getByText('No two tablets tell anything differently.').waitFor();
    await go(first, 'clinic/tablets');
  });

  test('a tablet that is put out says so, and shares no more', async () => {
    await button(first, 'Put out Chair 2').click();
    await field(first, 'Why').fill('given back');
    await first.getByRole('dialog').getByLabel('Passphrase of the lead').fill(PASSPHRASE);
    await button(first, 'Put it out').click();
    await first.getByRole('dialog').waitFor({ state: 'detached' });
    await go(second, 'clinic/tablets');
    await second.getByText(/^The store does not let this tablet in\./).waitFor();
    await button(second, 'Leave the store').click();
    await button(second, 'Leave').click();
    await field(second, 'Code').waitFor();
  });
});

import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { SERVER_HEADERS } from '../../.ci/vite/page-policy.ts';
import { builtDir } from '../tools/built-app.ts';
import { builtInBrowser } from '../tools/built-in-browser.ts';

describe('the content security policy of the built page', () => {
  const app = builtInBrowser();

  /** Opens the page and collects what the browser says against it and where it asks for files. */
  async function open(): Promise<{
    page: Page;
    violated: string[];
    complaints: string[];
    asked: string[];
  }> {
    const page = await (await app.browser.newContext()).newPage();
    const violated: string[] = [];
    const complaints: string[] = [];
    const asked: string[] = [];
    page.on('console', (line) => {
      if (line.type() === 'error' || line.type() === 'warning') complaints.push(line.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    page.context().on('request', (request) => asked.push(request.url()));
    await page.exposeFunction('noteViolation', (directive: string) => violated.push(directive));
    await page.addInitScript(() => {
      document.addEventListener('securitypolicyviolation', (event) => {
        Reflect.get(window, 'noteViolation')(event.effectiveDirective);
      });
    });
    await page.goto(app.address, { waitUntil: 'load' });
    await page.locator('#root > *').first().waitFor();
    return { page, violated, complaints, asked };
  }

  test('is the first thing in the head, before anything that it governs', async () => {
    const html = await readFile(join(builtDir(), 'index.html'), 'utf8');
    expect(html).toMatch(/<head>\s*<meta http-equiv="Content-Security-Policy"/);
    expect(html).not.toMatch(/<script(?![^>]*\bsrc=)/);
  });

  test('is broken by nothing the page does, and every request stays at its origin', async () => {
    const { page, violated, complaints, asked } = await open();
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.reload({ waitUntil: 'load' });
    expect(violated).toEqual([]);
    expect(complaints).toEqual([]);
    const origin = new URL(app.address).origin;
    expect(asked.length).toBeGreaterThan(3);
    expect(asked.filter((url) => !url.startsWith(origin))).toEqual([]);
  });

  test('loads the typeface from the build', async () => {
    const { page } = await open();
    const loaded = await page.evaluate(async () => {
      await document.fonts.load('16px "Atkinson Hyperlegible Next Variable"', 'Lutewatch 12');
      return document.fonts.check('16px "Atkinson Hyperlegible Next Variable"');
    });
    expect(loaded).toBe(true);
  });

  test('lets the app start its own workers, and nothing else become a script or markup', async () => {
    const { page, violated, complaints } = await open();
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    // The private files and the alarm each have a worker from the first screen on.
    await expect.poll(() => page.workers().length).toBeGreaterThanOrEqual(2);
    const own = page.workers().map((worker) => new URL(worker.url()).origin);
    expect(new Set(own)).toEqual(new Set([new URL(app.address).origin]));
    expect({ violated, complaints }).toEqual({ violated: [], complaints: [] });
    const refused = await page.evaluate(() => {
      const tried: Readonly<Record<string, () => unknown>> = {
        markup: () => {
          document.body.innerHTML = '<b>planted</b>';
        },
        document: () => new DOMParser().parseFromString('<b>planted</b>', 'text/html'),
        worker: () => new Worker('http://127.0.0.2:9/worker.js'),
        text: () => new Worker('data:text/javascript,postMessage(1)'),
        address: () => {
          document.createElement('script').src = 'http://127.0.0.2:9/script.js';
        },
        policy: () => Reflect.get(window, 'trustedTypes').createPolicy('other', {}),
      };
      return Object.entries(tried).map(([name, attempt]) => {
        try {
          attempt();
          return `${name} passed`;
        } catch (thrown) {
          return thrown instanceof TypeError ? name : `${name}: ${String(thrown)}`;
        }
      });
    });
    expect(refused).toEqual(['markup', 'document', 'worker', 'text', 'address', 'policy']);
  });

  test('is helped by what the server says, which the guide names for every other server', async () => {
    const answer = await fetch(app.address);
    const guide = await readFile(
      new URL('../../shared/guides/on-a-tablet.md', import.meta.url),
      'utf8',
    );
    for (const [name, value] of Object.entries(SERVER_HEADERS)) {
      expect(answer.headers.get(name), name).toBe(value);
      expect(guide).toContain(`   ${name}: ${value}\n`);
    }
    // A page of somebody else that shows this one in a frame.
    const other = await (await app.browser.newContext()).newPage();
    await other.setContent(`<iframe src="${app.address}"></iframe>`);
    await expect.poll(() => other.frames().at(1)?.url()).toMatch(/^chrome-error:/);
  });

  test('refuses a request and a script of another origin, and an inline script', async () => {
    const { page, violated } = await open();
    const refused = await page.evaluate(async () => {
      const script = document.createElement('script');
      // Put together piece by piece, past the door that takes no text.
      script.append(document.createTextNode('window.planted = true'));
      document.head.append(script);
      const fetched = await fetch('http://127.0.0.2:9/').then(
        () => true,
        () => false,
      );
      return { fetched, planted: 'planted' in window };
    });
    expect(refused).toEqual({ fetched: false, planted: false });
    // As text, because the test runner would put an import of its own in its place.
    const other = "import('http://127.0.0.2:9/x.js').then(() => 'came', () => 'refused')";
    expect(await page.evaluate(other)).toBe('refused');
    await expect.poll(() => [...violated].sort()).toEqual(['connect-src', 'script-src-elem']);
  });
});

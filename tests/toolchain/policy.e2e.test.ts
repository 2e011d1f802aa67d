import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { builtDir, type Served, serveBuilt } from '../tools/built-app.ts';

describe('the content security policy of the built page', () => {
  let served: Served;
  let browser: Browser;

  beforeAll(async () => {
    served = await serveBuilt();
    browser = await launchBrowser();
  });

  afterAll(async () => {
    await browser.close();
    await served.stop();
  });

  /** Opens the page and collects what the browser says against it and where it asks for files. */
  async function open(): Promise<{
    page: Page;
    violated: string[];
    complaints: string[];
    asked: string[];
  }> {
    const page = await (await browser.newContext()).newPage();
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
    await page.goto(served.address, { waitUntil: 'load' });
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
    const origin = new URL(served.address).origin;
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

  test('refuses a request to another origin and an inline script', async () => {
    const { page, violated } = await open();
    const refused = await page.evaluate(async () => {
      const script = document.createElement('script');
      script.textContent = 'window.planted = true';
      document.head.append(script);
      const fetched = await fetch('http://127.0.0.2:9/').then(
        () => true,
        () => false,
      );
      return { fetched, planted: 'planted' in window };
    });
    expect(refused).toEqual({ fetched: false, planted: false });
    await expect.poll(() => [...violated].sort()).toEqual(['connect-src', 'script-src-elem']);
  });
});

/** Firefox, driven by WebDriver BiDi. */
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { appendFile } from 'node:fs/promises';
import { join } from 'node:path';
import puppeteer from 'puppeteer-core';
import { HEIGHT_PX, killGroup, type Maker, WIDTH_PX } from './other-browser.ts';

const PLACES = [
  process.env['FIREFOX_BIN'] ?? '',
  '/usr/bin/firefox-esr',
  '/usr/bin/firefox',
  '/Applications/Firefox.app/Contents/MacOS/firefox',
];

export const firefox: Maker = {
  name: 'Firefox',
  wants: 'firefox or firefox-esr, or its path in FIREFOX_BIN',
  wantsToKeep: '',
  async make(profile) {
    const executablePath = PLACES.find((place) => place !== '' && existsSync(place));
    if (executablePath === undefined) return null;
    // The launcher sets this file aside before it writes its own, and fails where a kill left none.
    if (profile !== undefined) await appendFile(join(profile, 'user.js'), '');
    const browser = await puppeteer.launch({
      browser: 'firefox',
      executablePath,
      headless: true,
      ...(profile === undefined ? {} : { userDataDir: profile }),
    });
    const page = await browser.newPage();
    await page.setViewport({ width: WIDTH_PX, height: HEIGHT_PX });
    return {
      name: 'Firefox',
      version: await browser.version(),
      open: async (address) => {
        await page.goto(address);
      },
      ask: (body) => page.evaluate(`(() => { ${body} })()`) as Promise<never>,
      click: (selector) => page.click(selector),
      pressSpace: () => page.keyboard.press(' '),
      picture: () => page.screenshot(),
      close: () => browser.close(),
      async kill() {
        const child = browser.process();
        const ended = child === null ? undefined : once(child, 'exit');
        killGroup(child?.pid);
        await ended;
      },
    };
  },
};

/** Firefox, driven by WebDriver BiDi. */
import { existsSync } from 'node:fs';
import puppeteer from 'puppeteer-core';
import { HEIGHT_PX, type Maker, WIDTH_PX } from './other-browser.ts';

const PLACES = [
  process.env['FIREFOX_BIN'] ?? '',
  '/usr/bin/firefox-esr',
  '/usr/bin/firefox',
  '/Applications/Firefox.app/Contents/MacOS/firefox',
];

export const firefox: Maker = {
  name: 'Firefox',
  wants: 'firefox or firefox-esr, or its path in FIREFOX_BIN',
  async make() {
    const executablePath = PLACES.find((place) => place !== '' && existsSync(place));
    if (executablePath === undefined) return null;
    const browser = await puppeteer.launch({ browser: 'firefox', executablePath, headless: true });
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
    };
  },
};

/** How the screens of the pseudo-language are reached and read: by class and place, never by a word. */
import type { Page } from 'playwright-core';
import { pseudoText } from '../../.ci/vite/pseudo-text.ts';

export interface Seen {
  readonly texts: readonly { readonly text: string; readonly isCut: boolean }[];
  /** Whether the page is wider than the screen. */
  readonly isWide: boolean;
}

/** Every text that is drawn, names of controls among them, and whether it is cut where it stands. */
export function textsOn(page: Page): Promise<Seen> {
  return page.evaluate(() => {
    const isDrawn = (element: Element): boolean =>
      element.checkVisibility({ opacityProperty: true, visibilityProperty: true });
    const isCut = (element: Element): boolean => {
      const style = getComputedStyle(element);
      // The words of a bracket have its length; they stand whole in the list of windows below.
      if (element.matches('.sequence-window-words')) return false;
      const hides = /hidden|clip/.test(`${style.overflowX} ${style.overflowY}`);
      const { clientWidth, clientHeight, scrollWidth, scrollHeight } = element;
      // Said to a screen reader alone.
      const isHelp = style.clipPath !== 'none' || (clientWidth <= 1 && clientHeight <= 1);
      return hides && !isHelp && (scrollWidth > clientWidth + 1 || scrollHeight > clientHeight + 2);
    };
    const texts: { text: string; isCut: boolean }[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const parent = node.parentElement;
      const text = node.textContent?.trim() ?? '';
      if (text === '' || parent === null || /SCRIPT|STYLE/.test(parent.tagName)) continue;
      if (isDrawn(parent)) texts.push({ text, isCut: isCut(parent) });
    }
    for (const element of document.querySelectorAll('[aria-label], [title], [placeholder]')) {
      for (const name of ['aria-label', 'title', 'placeholder']) {
        const text = element.getAttribute(name)?.trim() ?? '';
        if (text !== '') texts.push({ text, isCut: false });
      }
    }
    return { texts, isWide: document.documentElement.scrollWidth > innerWidth + 1 };
  });
}

/** Symbols of units and marks that no language changes (SI Brochure, 9th edition 2019, table 8). */
const SYMBOLS = /\b(mW\/cm²|J\/cm²|mm|cm|min|lux|lx|klx|kB|MB|GB|°C|FDI|JSON|CSV|FHIR|PDF|UTC)\b/g;

const namesOf = (part: 'weekday' | 'month', days: readonly number[]): string =>
  days
    .map((day) => new Intl.DateTimeFormat('en', { [part]: 'short', timeZone: 'UTC' }).format(day))
    .join('|');
const WEEKDAYS = namesOf(
  'weekday',
  Array.from({ length: 7 }, (_, day) => Date.UTC(2026, 0, day + 1)),
);
const MONTHS = namesOf(
  'month',
  Array.from({ length: 12 }, (_, month) => Date.UTC(2026, month, 1)),
);
/** Names of a date are no text of the language folder: the engine tells them. A hash is no word. */
const DATES = new RegExp(`\\b((${WEEKDAYS}) )?\\d{1,2} (${MONTHS})\\b|\\b[0-9a-f]{64}\\b`, 'g');

const escaped = (text: string): string => text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A text of a protocol or a case as a pattern; its places for teeth and numbers take anything. */
function patternOf(text: string): RegExp {
  const pattern = escaped(text).replaceAll(/\\\{\w+\\\}/g, '.*?');
  return new RegExp(`(?<![\\p{L}\\p{N}])${pattern}(?![\\p{L}\\p{N}])`, 'gu');
}

/**
 * The texts among the strings of documents, the longest first: a code such as `etch` is none, and
 * would hide English that happens to hold it.
 */
export function dataTexts(strings: readonly string[]): readonly RegExp[] {
  const texts = strings.filter((text) => /[A-Z\s]/.test(text) && text.length > 2);
  return [...new Set(texts)].toSorted((a, b) => b.length - a.length).map(patternOf);
}

/** What of a text is neither pseudo-language nor data nor a symbol; empty when nothing is. */
export function unspoken(text: string, data: readonly RegExp[]): string {
  let rest = text;
  for (let before = ''; before !== rest; ) {
    before = rest;
    rest = rest.replaceAll(/⟦[^⟦⟧]*⟧/g, ' ');
  }
  for (const known of data) rest = rest.replace(known, ' ');
  return /[A-Za-z]{3,}/.test(rest.replaceAll(DATES, ' ').replaceAll(SYMBOLS, ' '))
    ? rest.trim()
    : '';
}

export function judgeTexts(
  seen: Seen,
  data: readonly RegExp[],
): { readonly raw: readonly string[]; readonly cut: readonly string[]; readonly wide: boolean } {
  const raw = seen.texts.flatMap(({ text }) => unspoken(text, data) || []);
  const cut = seen.texts.flatMap(({ text, isCut }) => (isCut ? [text] : []));
  return { raw: [...new Set(raw)], cut: [...new Set(cut)], wide: seen.isWide };
}

const CASE = 'eight-upper-veneers';
const PROTOCOL = 'thin-veneers-separate-bottle-etch-and-rinse';

const at = (path: string) => async (page: Page) => {
  await page.evaluate((to) => history.pushState(null, '', to), path);
  await page.locator('main').first().waitFor();
  await page.waitForTimeout(500);
};

/** Begins a rehearsal of the first prepared case and presses so often. */
const inTheChair = (presses: number) => async (page: Page) => {
  await page
    .getByRole('button', { name: new RegExp(`^⟦${pseudoText('Rehearse')}`) })
    .first()
    .click();
  await page.locator('.lw-bar').waitFor();
  for (let i = 0; i < presses; i += 1) {
    await page.keyboard.press('Space');
    await page.waitForTimeout(450);
  }
};

/** What is looked at, and how it is reached. */
export const LOOKS: readonly { name: string; open: (page: Page) => Promise<void> }[] = [
  { name: 'today', open: at('/') },
  { name: 'set-up', open: at(`/set-up/${CASE}`) },
  { name: 'plan', open: at(`/plan/${CASE}`) },
  { name: 'protocols', open: at('/protocols') },
  { name: 'a protocol', open: at(`/protocols/${PROTOCOL}`) },
  { name: 'the lead’s desk', open: at('/lead') },
  { name: 'clinic', open: at('/clinic') },
  { name: 'the quick card', open: at('/clinic/card') },
  { name: 'all cases', open: at('/record') },
  { name: 'materials', open: at('/materials') },
  { name: 'lights', open: at('/materials/light') },
  { name: 'backup', open: at('/backup') },
  { name: 'no such place', open: at('/nowhere') },
  { name: 'the chair', open: inTheChair(6) },
  {
    name: 'the sheets of the chair',
    open: async (page) => {
      await inTheChair(2)(page);
      await page.locator('.chair-ends button').last().click();
      await page.locator('dialog[open]').waitFor();
    },
  },
];

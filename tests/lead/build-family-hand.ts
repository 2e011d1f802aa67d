/** A person at the desk who only taps and types, and how often. For tests only. */
import type { Locator, Page } from 'playwright-core';

/** Anything that has fields in it: a sheet, a group of fields, the page. */
export type Place = Page | Locator;

/** Taps and keystrokes at one tablet. A list to choose from takes two taps: one opens it, one chooses. */
export class Hand {
  readonly page: Page;
  taps = 0;
  keys = 0;

  constructor(page: Page) {
    this.page = page;
  }

  async tap(target: Locator): Promise<void> {
    this.taps += 1;
    await target.click();
  }

  /** Replaces what stands in the field; nothing where it says so already. */
  async type(target: Locator, text: string): Promise<void> {
    if ((await target.inputValue()) === text) return;
    this.taps += 1;
    this.keys += Math.max(1, text.length);
    await target.fill(text);
  }

  typeIn(place: Place, label: string, text: string | undefined): Promise<void> {
    return this.type(place.getByLabel(label, { exact: true }), text ?? '');
  }

  async choose(target: Locator, option: string): Promise<void> {
    const now = await target.evaluate((element) =>
      element instanceof HTMLSelectElement ? element.selectedOptions[0]?.label : undefined,
    );
    if (now === option) return;
    this.taps += 2;
    await target.selectOption({ label: option });
  }

  chooseIn(place: Place, label: string, option: string): Promise<void> {
    return this.choose(place.getByLabel(label, { exact: true }), option);
  }

  async tick(target: Locator, isOn: boolean): Promise<void> {
    if ((await target.isChecked()) === isOn) return;
    this.taps += 1;
    await target.setChecked(isOn);
  }

  tickIn(place: Place, label: string, isOn: boolean): Promise<void> {
    return this.tick(place.getByRole('checkbox', { name: label, exact: true }), isOn);
  }

  /** One of a few choices side by side. */
  pickIn(place: Place, group: string, option: string): Promise<void> {
    const choices = place.getByRole('group', { name: group, exact: true });
    return this.tick(choices.getByRole('radio', { name: option, exact: true }), true);
  }

  pressIn(place: Place, name: string): Promise<void> {
    return this.tap(place.getByRole('button', { name, exact: true }));
  }

  /** The names of ticks that are on, in the order in which they stand. */
  async ticked(group: Locator): Promise<readonly string[]> {
    return group.locator('label:has(input[type="checkbox"]:checked)').allTextContents();
  }

  /** Ticks that stay on in the order of `wanted`: what comes too early is taken off and put on again. */
  async tickAll(
    group: Locator,
    o: { readonly had: readonly string[]; readonly wanted: readonly string[] },
  ) {
    const { had, wanted } = o;
    const kept = had.filter((label, i) => wanted[i] === label);
    const isPrefix = kept.length === had.length;
    if (isPrefix && had.length === wanted.length) return;
    for (const label of isPrefix ? [] : had) await this.tickIn(group, label, false);
    for (const label of isPrefix ? wanted.slice(had.length) : wanted) {
      await this.tickIn(group, label, true);
    }
  }
}

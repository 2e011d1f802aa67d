/** Confirms a draft in a browser, number by number, by clicks and keys alone. For tests only. */
import type { Page } from 'playwright-core';

/** How much a person did. */
export interface Effort {
  readonly taps: number;
  readonly keys: number;
}

/** On the page "Confirm": every number of every material is ticked for itself, against one document. */
export async function confirmEveryNumber(
  page: Page,
  o: { readonly document: string; readonly revision: string },
): Promise<Effort> {
  let [taps, keys] = [0, 0];
  for (;;) {
    const compare = page.getByRole('button', { name: /^Compare the numbers of / }).first();
    if ((await compare.count()) === 0) return { taps, keys };
    await compare.click();
    taps += 1;
    const group = page.locator('.approval-bulk');
    for (const box of await group.getByRole('checkbox').all()) {
      await box.check();
      taps += 1;
    }
    await group.getByLabel('Document', { exact: true }).fill(o.document);
    await group.getByLabel('Revision or date').fill(o.revision);
    taps += 2;
    keys += o.document.length + o.revision.length;
    await group.getByRole('button', { name: /^Confirm \d+ numbers? against it$/ }).click();
    taps += 1;
    await group.waitFor({ state: 'detached' });
  }
}

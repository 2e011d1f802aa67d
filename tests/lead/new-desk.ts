/** The lead's desk of a new tablet, opened in a browser by the person who answers for the numbers. */
import type { Page } from 'playwright-core';

/** An invented passphrase. */
export const DESK_PASSPHRASE = 'four tides and a kettle';

export async function openNewDesk(page: Page, address: string): Promise<void> {
  await page.goto(`${address}protocols`);
  await page.getByRole('link', { name: 'The lead’s desk' }).click();
  await page.getByLabel('Who answers for the numbers').fill('Clinic lead C');
  await page.getByLabel('Passphrase', { exact: true }).fill(DESK_PASSPHRASE);
  await page.getByLabel('Repeat it').fill(DESK_PASSPHRASE);
  await page.getByRole('button', { name: 'Set it and open the desk' }).click();
  await page.getByRole('heading', { name: 'Drafts' }).waitFor();
}

// @vitest-environment jsdom
// An address that somebody saved while these pages had other names still leads to them.
import { screen } from '@testing-library/react';
import { beforeAll, describe, expect, it } from 'vitest';
import { otherClinicsWords } from '../../src/words/other-clinics-words.ts';
import { ownTimesWords } from '../../src/words/own-times-words.ts';
import { template } from './lead-support.ts';
import { dialogsInJsdom, showDesk } from './show-desk.tsx';

beforeAll(dialogsInJsdom);

const heading = (name: string) => screen.getByRole('heading', { level: 1, name });

describe('pages of the desk', () => {
  it.each(['/lead/own-times', '/lead/learning'])('own times stand at %s', async (path) => {
    await showDesk(() => path);
    expect(heading(ownTimesWords.title)).toBeVisible();
  });

  it.each(['/lead/other-clinics', '/lead/exchange'])('other clinics stand at %s', async (path) => {
    await showDesk(() => path);
    expect(heading(otherClinicsWords.title)).toBeVisible();
  });

  it.each(['other-clinics', 'exchange'])('a file is compared at /lead/%s/DRAFT', async (name) => {
    await showDesk((draft) => `/lead/${name}/${draft}`, template(), 'import');
    expect(heading(otherClinicsWords.compareTitle(template().title))).toBeVisible();
  });
});

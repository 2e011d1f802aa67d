// @vitest-environment jsdom
// On a busy machine a screen may come late: a test waits for what it expects, not for one second.
import { screen } from '@testing-library/react';
import { expect, it } from 'vitest';

it('a test waits longer than a second for what is to appear', async () => {
  setTimeout(() => {
    document.body.append(Object.assign(document.createElement('p'), { textContent: 'Late' }));
  }, 1500);
  expect(await screen.findByText('Late')).toBeVisible();
});

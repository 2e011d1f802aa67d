/** The figure of blue light beside the amber look is worked out from the style sheet that the app draws with. */
import { expect, test } from 'vitest';
import { render } from 'vitest-browser-react';
import '../../src/ui/theme/theme.css';
import { ClinicAmber } from '../../src/ui/clinic/ClinicAmber.tsx';

test('the colours of both looks are found in the style sheet, and amber gives far less blue light', async () => {
  const screen = await render(<ClinicAmber />);
  const figure = screen.getByText(/in the light look/);
  await expect.element(figure).toBeVisible();
  const [, times] = /([\d.,]+) times less/.exec(figure.element().textContent ?? '') ?? [];
  expect(Number(times?.replace(',', ''))).toBeGreaterThan(10);
});

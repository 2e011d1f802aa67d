// @vitest-environment jsdom
/** The plan's picture answers a touch; nothing outside the project to compare with. */
import { fireEvent, render, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { makePlan } from '../../src/plan/make-plan.ts';
import { PlanLanes } from '../../src/ui/plan/PlanPicture.tsx';
import { caseOf, confirm, dwell, protocolOf, step } from '../engine/fixture.ts';

const protocol = protocolOf([
  step('clean', 'tooth', confirm, { paceSeconds: 40, by: 'dentist', together: true }),
  step('acid', 'tooth', dwell(60, 90), { by: 'dentist', after: ['clean'], together: true }),
  step('rinse', 'tooth', confirm, { by: 'dentist', after: ['acid'], together: true }),
]);
const spec = caseOf(['11', '21']);
const { timeline } = makePlan({ spec, protocol, tables: null, risk: { samples: 1 } });

function shown() {
  const scale = { startMs: timeline.startMs, endMs: timeline.endMs };
  return render(<PlanLanes timeline={timeline} naming={{ spec, protocol }} scale={scale} />);
}

it('a touched bar is told in one line: what, whose, when and why then', () => {
  const { container } = shown();
  const bars = [...container.querySelectorAll('.plan-bar')];
  const title = (bar: Element) => bar.querySelector('title')?.textContent ?? '';
  const clean = bars.find((bar) => title(bar).startsWith('clean'));
  if (clean === undefined) throw new Error('no bar');
  fireEvent.pointerDown(clean);
  expect(clean.getAttribute('data-picked')).toBe('true');
  const line = container.querySelector('[aria-live]')?.textContent;
  expect(line).toContain('Dentist A');
  expect(line).toMatch(/^clean .*from .* to .*nothing holds it\.$/);
});

it('buttons go from bar to bar in the order of the work, without a touch on the picture', async () => {
  const { container } = shown();
  const line = () => container.querySelector('[aria-live]')?.textContent ?? '';
  const later = screen.getByRole('button', { name: 'The bar after this one' });
  await userEvent.click(later);
  expect(line()).toMatch(/^clean /);
  await userEvent.click(later);
  expect(line()).toMatch(/^acid .*it follows clean/);
  await userEvent.click(screen.getByRole('button', { name: 'The bar before this one' }));
  expect(line()).toMatch(/^clean /);
});

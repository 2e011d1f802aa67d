import { render, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { useState } from 'react';
import { expect, test } from 'vitest';

function Counter() {
  const [presses, setPresses] = useState(0);
  return (
    <button type="button" onClick={() => setPresses(presses + 1)}>
      pressed {presses} times
    </button>
  );
}

test('a component answers a press', async () => {
  render(<Counter />);
  await userEvent.click(screen.getByRole('button', { name: 'pressed 0 times' }));
  expect(screen.getByRole('button')).toHaveTextContent('pressed 1 times');
});

test('a component of an earlier test is gone', () => {
  expect(document.body).toBeEmptyDOMElement();
});

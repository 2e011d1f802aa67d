// @vitest-environment jsdom
import { screen } from '@testing-library/react';
import { act } from 'react';
import { describe, expect, it, vi } from 'vitest';
import { ScanSheet } from '../../src/ui/materials/scan/Scan.tsx';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';

// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const LABEL = '01040123456789011728113010AB-7';

/** Sends keys to what has the focus, as a scanner would; whether its Enter went on. */
function scanned(text: string, gapMs: number): boolean {
  let wentOn = true;
  act(() => {
    for (const [n, key] of [...text, 'Enter'].entries()) {
      const event = new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true });
      Object.defineProperty(event, 'timeStamp', { value: 1000 + n * gapMs });
      wentOn = (document.activeElement ?? document.body).dispatchEvent(event);
    }
  });
  return wentOn;
}

function opened() {
  const onClose = vi.fn();
  show(<ScanSheet onClose={onClose} onTake={vi.fn()} onByHand={vi.fn()} />, {
    session: fakeSession(),
  });
  return { onClose };
}

describe('a scanner whose keys come slowly', () => {
  it.each([10, 60, 100])('is read at %i ms a key', (gapMs) => {
    opened();
    expect(scanned(LABEL, gapMs)).toBe(false);
    expect(screen.getByText('AB-7')).toBeVisible();
  });

  it('is told that it was too slow, with what helps, and presses nothing', () => {
    const { onClose } = opened();
    screen.getByRole('button', { name: 'Close' }).focus();
    expect(scanned(LABEL, 140)).toBe(false);
    expect(screen.getByRole('alert')).toHaveTextContent('The keys came up to 140 ms apart.');
    expect(onClose).not.toHaveBeenCalled();
  });

  it('is left to the field that has the focus, which reads every speed', () => {
    opened();
    screen.getByLabelText('Or type the code').focus();
    expect(scanned(LABEL, 140)).toBe(true);
    expect(screen.queryByRole('alert')).toBeNull();
  });
});

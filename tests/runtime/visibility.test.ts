import { describe, expect, test } from 'vitest';
import { watchVisibility } from '../../src/runtime/device/visibility.ts';
import { fakePage } from './fake-page.ts';

function watched() {
  const fake = fakePage();
  const visibility = watchVisibility(fake.page);
  const heard: string[] = [];
  visibility.onWake((cause) => heard.push(cause));
  visibility.onLeave(() => heard.push('left'));
  return { ...fake, visibility, heard };
}

describe('visibility', () => {
  test('tells when the page goes and when it comes back', () => {
    const { hide, show, visibility, heard } = watched();
    hide();
    expect(visibility.getState()).toBe('hidden');
    show();
    expect(visibility.getState()).toBe('visible');
    expect(heard).toEqual(['left', 'visible']);
  });

  test('makes one wake of freezing and resuming', () => {
    const { freeze, resume, heard } = watched();
    freeze();
    resume();
    expect(heard).toEqual(['left', 'resumed']);
  });

  test('wakes after a return from the history cache, not after the first showing', () => {
    const { leave, showAgain, heard } = watched();
    showAgain({ persisted: false });
    leave();
    showAgain({ persisted: true });
    expect(heard).toEqual(['left', 'shown-again']);
  });

  test('hears nothing more once disposed', () => {
    const { hide, show, leave, visibility, heard } = watched();
    visibility.dispose();
    hide();
    show();
    leave();
    expect(heard).toEqual([]);
  });
});

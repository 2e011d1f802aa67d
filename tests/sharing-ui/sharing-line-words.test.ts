/** What the line about sharing says, second by second. */
import { describe, expect, test } from 'vitest';
import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_SECOND } from '../../src/base/units.ts';
import { NOT_SHARING, type SharingState } from '../../src/runtime/sharing/sharing-state.ts';
import { timesIn } from '../../src/words/date-words.ts';
import { sharingWordsAt } from '../../src/words/sharing-line-words.ts';
import { LOOKED_AT_MS, PAIRED } from './states.ts';

const times = timesIn({ zone: 'UTC', language: 'en' });
const at = (change: Partial<SharingState>, laterMs = 0) =>
  sharingWordsAt({ ...PAIRED, ...change }, { nowMs: LOOKED_AT_MS + laterMs, times });

// Between a number and its unit stands a space that does not break.
const plain = (words: string | undefined): string | undefined => words?.replaceAll('\u00a0', ' ');

describe('the line about sharing', () => {
  test('is not there on a tablet that is alone', () => {
    expect(sharingWordsAt(NOT_SHARING, { nowMs: LOOKED_AT_MS, times })).toBeNull();
  });

  test.each([
    [-2 * MS_PER_SECOND, 'Shared 1 s ago'],
    [0, 'Shared 3 s ago'],
    [6_999, 'Shared 9 s ago'],
    [7_000, 'Shared 10 s ago'],
    [16_999, 'Shared 10 s ago'],
    [17_000, 'Shared 20 s ago'],
    [57_000, 'Shared 1 min ago'],
    [3 * MS_PER_MINUTE, 'Shared 3 min ago'],
    [2 * MS_PER_HOUR, 'Shared 2 h ago'],
    // The clock of the tablet was put back.
    [-MS_PER_HOUR, 'Shared 1 s ago'],
  ])('%i ms later says: %s', (laterMs, words) => {
    expect(at({}, laterMs)).toMatchObject({ mark: 'shared' });
    expect(plain(at({}, laterMs)?.words)).toBe(words);
  });

  test('does not turn over for a press that is on its way', () => {
    const behindSinceWallMs = LOOKED_AT_MS;
    expect(at({ behindSinceWallMs }, 9_999)?.mark).toBe('shared');
    expect(at({ behindSinceWallMs }, 10_000)).toEqual({
      mark: 'behind',
      words: 'Not shared since 09:20: keeps on its own',
    });
  });

  test('names the day where it is another one', () => {
    const behindSinceWallMs = LOOKED_AT_MS - 20 * MS_PER_HOUR;
    expect(at({ behindSinceWallMs })?.words).toBe(
      'Not shared since 24 Nov 2026, 13:20: keeps on its own',
    );
  });

  test('tells how far a long reading is, that nothing was shared yet, and that it was put out', () => {
    expect(at({ catchUp: { done: 120, of: 900 } })?.words).toBe('Reading 120 of 900');
    expect(at({ sharedAtWallMs: null })?.words).toBe('Not shared yet: keeps on its own');
    expect(at({ standing: 'put-out' })?.mark).toBe('put-out');
    // The store shuts a tablet out before anybody can tell it why.
    expect(at({ problem: 'not-let-in', behindSinceWallMs: LOOKED_AT_MS })).toEqual({
      mark: 'put-out',
      words: 'Not let in by the clinic’s store: keeps on its own',
    });
    expect(sharingWordsAt(PAIRED, { nowMs: LOOKED_AT_MS, times, isReader: true })?.words).toBe(
      'Another window shares',
    );
  });
});

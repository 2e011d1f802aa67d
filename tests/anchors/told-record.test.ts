/** What a record says of its anchorage. */
import { describe, expect, it } from 'vitest';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { exportWords } from '../../src/words/export-words.ts';
import { finished, sourceOf } from '../export/journals.ts';

const { log } = finished();
const atWallMs = Date.UTC(2026, 10, 27, 9, 41, 7);
const textWith = (anchorage: NonNullable<Parameters<typeof recordFacts>[0]['anchorage']> | null) =>
  recordText(recordFacts({ ...sourceOf(log), clinicZone: 'UTC', anchorage }));

describe('a record', () => {
  it('says up to where it is anchored, when, and to how many others that is known', () => {
    expect(textWith({ entries: 57, atWallMs, knownTo: 2 })).toMatch(
      /Anchored up to entry 57 \(.*09:41:07.*\), known to 2 other tablets/,
    );
    expect(textWith({ entries: 57, atWallMs, knownTo: 1 })).toContain('known to 1 other tablet\n');
  });

  it('says what nothing can show before a head has left the tablet', () => {
    expect(textWith(null)).toContain(exportWords.notAnchored);
  });

  it('of a tablet that shares with none says nothing of others', () => {
    const text = recordText(recordFacts({ ...sourceOf(log), clinicZone: 'UTC' }));
    expect(text).not.toMatch(/nchored/);
  });
});

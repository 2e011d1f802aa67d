/**
 * Planned times in the forms that draw nothing. The rows of the fixture and the plan itself are the
 * standard: what a line says must be what they say.
 */
import { describe, expect, it } from 'vitest';
import { exportFile } from '../../src/export/export-forms.ts';
import type { RecordSource } from '../../src/export/export-source.ts';
import { clockWords } from '../../src/export/export-words.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { openingTimeline } from '../../src/plan/replan.ts';
import { finished, followed, sourceOf } from './journals.ts';

const TITLE = 'Against the plan it was opened with, minutes from the opening\n';

function linesOf(source: RecordSource): string[] {
  const { text } = exportFile(source, 'text');
  const [, after = ''] = text.split(TITLE);
  return (
    after
      .split('\n\n')[0]
      ?.split('\n')
      .map((line) => line.trim()) ?? []
  );
}

const lineOf = (source: RecordSource, title: string): string =>
  linesOf(source).find((line) => line.startsWith(`${title}: `)) ?? '';

describe('the record as text, beside its plan', () => {
  it('says when each step was planned and done, and by how much its end differs', () => {
    const source = sourceOf(finished().log);
    // Rows of the fixture: the first etch begins at 70 s, the last one ends at 190 s; fit at 50 s.
    // By hand, at the paces of its protocol: ready, fit and shade take 5 s each, the etch begins at 15 s.
    expect(lineOf(source, 'etch')).toMatch(
      /^etch: planned 0:15 to 0:\d\d, done 1:10 to 3:10, ended \d+ s later$/,
    );
    expect(lineOf(source, 'fit')).toBe('fit: planned 0:05 to 0:10, done at 0:50, ended 40 s later');
    expect(lineOf(source, 'again')).toMatch(/planned not at all, done/);
  });

  it('begins with the whole case', () => {
    const source = sourceOf(followed('two-veneers').log);
    const facts = recordFacts(source);
    const planned = clockWords(openingTimeline(source.log.state).endMs);
    const took = clockWords(facts.signOff?.at.hiMs ?? 0);
    expect(linesOf(source)[0]).toBe(`Whole case: planned ${planned}, took ${took}`);
  });

  it('has a line for every step that was done', () => {
    const source = sourceOf(followed('two-veneers').log);
    const titles = new Set(
      recordFacts(source).steps.flatMap((s) => (s.start?.pressed ? [s.title] : [])),
    );
    for (const title of titles) expect(lineOf(source, title), title).not.toBe('');
  });
});

it('the record as JSON carries the same times, beside what it always said', () => {
  const source = sourceOf(followed('two-veneers').log);
  const { againstPlan, ...facts } = JSON.parse(exportFile(source, 'facts').text);
  expect(facts).toEqual(JSON.parse(JSON.stringify(recordFacts(source))));
  const timeline = openingTimeline(source.log.state);
  expect(againstPlan.plannedEndMs).toBe(timeline.endMs);
  for (const { step, planned } of againstPlan.steps) {
    const bars = timeline.bars.filter((bar) => bar.step === step);
    expect(planned?.toMs ?? null, step).toBe(
      bars.length === 0 ? null : Math.max(...bars.map((bar) => bar.endMs)),
    );
  }
});

it.each([
  [0, '0:00'],
  [59_499, '0:59'],
  [59_500, '1:00'],
  [4_260_000, '71:00'],
])('%i ms are told as %s', (ms, words) => {
  expect(clockWords(ms)).toBe(words);
});

/** Words that were added at the signature stand beside what they are about, in every form. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { breachId, signItems } from '../../src/engine/sign-list.ts';
import { fhirBundle } from '../../src/export/fhir-bundle.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { saidOf, saidOfStep } from '../../src/export/said-words.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { eventful, sourceOf } from './journals.ts';

/** The eventful case with a word beside each line of the signature. */
function worded() {
  const chair = eventful();
  const [offer] = chair.view.offers;
  const { step = '', subjects = [] } = offer ?? {};
  chair.do({ do: 'skip', step, subjects, reason: 'no time' });
  const items = signItems(chair.log.state);
  for (const [n, { id }] of items.entries()) {
    chair.do({ do: 'note', words: `word ${n}`, about: id });
  }
  return { items, facts: recordFacts(sourceOf(chair.log)) };
}

const { items, facts } = worded();
const indexOf = (kind: string): string => `word ${items.findIndex((i) => i.kind === kind)}`;
const KINDS = ['breach', 'voided', 'gap', 'skipped'] as const;

/** What a line of this kind says in the text of a record. */
const LINES: Readonly<Record<(typeof KINDS)[number], RegExp>> = {
  breach: /^ {2}tooth 11: .*short of the minimum/,
  voided: /^ {2}.*drool/,
  gap: /^ {2}.*slept/,
  skipped: /^ {2}.*skipped.*no time/,
};

describe('a word beside a line of the signature', () => {
  it.each(KINDS)('stands in the text beside what was %s', (kind) => {
    const lines = recordText(facts).split('\n');
    const beside = lines.filter((l) => LINES[kind].test(l) && l.includes(indexOf(kind)));
    expect(beside.length).toBeGreaterThan(0);
  });

  it('names in the notes what it is about in words, never by its code', () => {
    const text = recordText(facts);
    for (const { id } of items) expect(text).not.toContain(`${id}: `);
    expect(JSON.stringify(fhirBundle(facts))).not.toContain(`breach ${facts.breaches[0]?.press}`);
  });

  it('stands in the notes of the bundle', () => {
    const bundle = JSON.stringify(fhirBundle(facts));
    for (const n of items.keys()) expect(bundle).toContain(`word ${n}`);
    expect(bundle).toMatch(/Bound not kept: tooth 11: [^"]*word 0/);
  });

  it('stands in the row of its step', () => {
    const [head = '', ...rows] = stepsCsv(facts).trim().split('\r\n');
    expect(head.split(',')).toContain('said');
    const beside = rows.filter((row) => row.includes(indexOf('breach')));
    expect(beside).toHaveLength(1);
    // Beside the run that was too short, not beside the one that was done again after it.
    const cells = (beside[0] ?? '').match(/("([^"]|"")*"|[^,]*)(,|$)/g) ?? [];
    const shortBy = cells[head.split(',').indexOf('short_by_ms')] ?? '';
    expect(Number(shortBy.replace(',', ''))).toBeGreaterThan(0);
    expect(rows.some((row) => row.includes(indexOf('skipped')))).toBe(true);
    expect(rows.some((row) => row.includes(indexOf('voided')))).toBe(true);
  });
});

describe('a step that was done again', () => {
  it('has the word beside the run that broke the limit, which was voided', () => {
    const breach = present(
      facts.breaches.find(({ what }) => what === 'step'),
      'a breach',
    );
    const run = present(
      facts.steps.find(({ step, subject }) => step === breach.of && subject === breach.subject),
      'its run',
    );
    const at = (press: number) => {
      const edge = run.end ?? run.start;
      return edge && { ...edge, pressed: edge.pressed && { ...edge.pressed, press } };
    };
    const words = saidOf(facts, breachId(breach));
    expect(words).not.toBe('');
    const again = { ...run, start: at(breach.press + 3), end: at(breach.press + 4) };
    const first = { ...run, start: at(breach.press - 1), end: at(breach.press) };
    const voided = { ...first, voidedByPress: breach.press + 1, voidedBecause: 'blood' };
    expect(saidOfStep(facts, again, null)).toBeNull();
    expect(saidOfStep(facts, first, null)).toBe(words);
    expect(saidOfStep(facts, first, voided)).toContain(words);
  });
});

describe('a unit', () => {
  it('is told by words and not by the id of its material', () => {
    const [unit] = facts.units;
    if (unit === undefined) throw new Error('no unit');
    const told = { ...facts, units: [{ ...unit, material: 'lithium-disilicate' }] };
    expect(recordText(told)).toContain('lithium disilicate');
    expect(recordText(told)).not.toContain('lithium-disilicate');
    const narratives = [...JSON.stringify(fhirBundle(told)).matchAll(/<div[^>]*>.*?<[/]div>/g)];
    expect(narratives.join(' ')).toContain('lithium disilicate');
    expect(narratives.join(' ')).not.toContain('lithium-disilicate');
  });
});

import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { Result } from '../../src/base/result.ts';
import { foldJournal, type ParsedJournal, parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { startsOf, strides, walk } from '../engine/walks.ts';
import { wholeCase } from '../storage/sample-case.ts';
import { runSeed, runSize } from '../tools/run-size.ts';
import { publishedJournalSchema } from './journal-schema.ts';
import { DEMO_CASES, entriesOf, eventful, finished, followed } from './journals.ts';

const chain = { verify: verifyChain };

function read<E>(parsed: Result<ParsedJournal, E>): ParsedJournal {
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

const jsonOf = (entries: ReturnType<typeof entriesOf>, apart: readonly unknown[] = []): string =>
  journalJson({ caseId: 'case-1', entries, apart });

const small = entriesOf(finished().log.records);

describe('a journal as JSON', () => {
  it('comes back equal, entry by entry and hash by hash', () => {
    const parsed = read(parseJournal(jsonOf(small), chain));
    expect(parsed.entries).toEqual(small);
    expect(parsed).toMatchObject({ caseId: 'case-1', apart: [], problems: [] });
    expect(parsed.verification).toEqual({ goodCount: small.length, firstBad: null });
    expect(foldJournal(parsed.entries)).toMatchObject({ ok: true });
  });

  it('holds after other programs laid the same JSON out in another way', () => {
    const pretty = JSON.stringify(JSON.parse(jsonOf(small)), null, 4);
    expect(read(parseJournal(`\ufeff${pretty}`, chain))).toMatchObject({
      problems: [],
      verification: { goodCount: small.length },
    });
  });

  it('carries what was set apart, and nothing is dropped on the way back', () => {
    const apart = ['torn {"seq":', { seq: 7, event: null }, null, 'half \ud800 pair'];
    const parsed = read(parseJournal(jsonOf(small, apart), chain));
    expect(parsed.apart).toEqual(apart);
    expect(parsed.entries).toEqual(small);
  });

  it('can be empty', () => {
    expect(read(parseJournal(jsonOf([]), chain))).toMatchObject({ entries: [], problems: [] });
    expect(foldJournal([])).toMatchObject({ ok: false, error: { code: 'no-entries' } });
  });

  it('of a random walk comes back equal and is written alike', () => {
    const start = startsOf(settingOf(SMALL_WHOLE, ['11', '21']));
    fc.assert(
      fc.property(fc.nat(60), strides(25), (presses, list) => {
        const chair = walk(start(presses), list);
        const entries = entriesOf(chair.log.records);
        const text = jsonOf(entries);
        const parsed = read(parseJournal(text, chain));
        expect(parsed.problems).toEqual([]);
        expect(parsed.entries).toEqual(entries);
        expect(jsonOf(parsed.entries)).toBe(text);
        const folded = foldJournal(parsed.entries);
        expect(folded.ok && folded.value.state).toEqual(chair.log.state);
      }),
      { numRuns: 60 },
    );
  }, 60_000);
});

// Outside reference: JSON Schema 2020-12 as the ajv validator reads it.
describe('the published schema of a journal', () => {
  const shared = (file: string): string =>
    readFileSync(new URL(`../../shared/${file}`, import.meta.url), 'utf8');
  const published = shared('journal.schema.json');
  const validate = new Ajv2020({ strict: true, allowUnionTypes: true })
    .addSchema(JSON.parse(shared('case.schema.json')))
    .addSchema(JSON.parse(shared('protocol.schema.json')))
    .compile(JSON.parse(published));

  it('is what the parser is made of', () => {
    expect(published, 'write it anew: npx tsx tests/export/write-journal-schema.ts').toBe(
      publishedJournalSchema(),
    );
  });

  it.each([
    ['an eventful case that is still open', () => eventful().log.records],
    ['a finished case', () => finished().log.records],
    [
      'the shipped template, followed for 150 presses',
      () => followed('two-veneers', 150).log.records,
    ],
  ])('is met by %s', (_, records) => {
    const document = JSON.parse(jsonOf(entriesOf(records()), [1, null]));
    expect(validate(document), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
  });

  it.each(DEMO_CASES)(
    'is met by the shipped case %s, which is read back equal',
    (name) => {
      const { log } = followed(name);
      const entries = entriesOf(log.records);
      const text = jsonOf(entries);
      expect(validate(JSON.parse(text)), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
      const parsed = read(parseJournal(text, chain));
      expect(parsed.problems).toEqual([]);
      expect(parsed.entries).toEqual(entries);
    },
    60_000,
  );

  it('refuses, like the parser, an event with a key too many, one too few and one unknown', () => {
    const noteAt = small.findIndex((e) => e.event.type === 'note-added');
    const records = finished().log.records;
    const changed = (event: object) =>
      entriesOf(
        records.map((r) => (r.seq === noteAt ? { ...r, event: event as typeof r.event } : r)),
      );
    for (const event of [
      { type: 'note-added', words: 'x', more: 1 },
      { type: 'note-added' },
      { type: 'note-painted', words: 'x' },
      { type: 'press-retimed', press: -1, byMs: 4 },
      { type: 'step-started', step: 'etch', subjects: 'tooth:11' },
    ]) {
      const text = jsonOf(changed(event));
      expect(validate(JSON.parse(text))).toBe(false);
      // Everything is chained as it should be: only the event itself is wrong.
      const parsed = read(parseJournal(text, chain));
      expect(parsed.verification).toEqual({
        goodCount: noteAt,
        firstBad: { index: noteAt, reason: 'event' },
      });
      expect(parsed.problems[0]?.place).toContain(`journal.entries[${noteAt}].event`);
      expect(parsed.apart).toHaveLength(small.length - noteAt);
    }
  });
});

describe('a journal that was damaged', () => {
  it.each([
    ['nothing', '', 'not-json', 'journal, line 1, column 1'],
    ['a word', 'hello', 'not-json', 'journal, line 1, column 1'],
    ['a number', '7', 'bad-value', 'journal'],
    ['a list', '[]', 'bad-value', 'journal'],
    ['another document', '{"format":"lutewatch-case"}', 'wrong-format', 'journal.format'],
    [
      'a newer format',
      '{"format":"lutewatch-journal","formatVersion":2}',
      'newer-format',
      'journal.formatVersion',
    ],
    [
      'no entries',
      '{"format":"lutewatch-journal","formatVersion":1,"caseId":"c"}',
      'bad-value',
      'journal.entries',
    ],
  ])('is refused when it is %s, with its place', (_, text, code, place) => {
    const parsed = parseJournal(text, chain);
    expect(parsed).toMatchObject({ ok: false, error: [{ code, place }] });
  });

  it('that lost its end keeps what came before, at every length', () => {
    const text = jsonOf(entriesOf(wholeCase('case-1', 8)));
    const feeds = [...text.matchAll(/,?\n/g)].map((m) => m.index);
    // The first feed ends the head, the last one the document.
    const ends = feeds.slice(1, 9);
    expect(ends).toHaveLength(8);
    for (let length = present(ends[0], 'first end'); length < text.length - 1; length += 1) {
      const parsed = read(parseJournal(text.slice(0, length), chain));
      const whole = ends.filter((end) => end <= length).length;
      expect(parsed.verification.goodCount, `cut at ${length}`).toBe(whole);
      expect(parsed.problems.length, `cut at ${length}`).toBeGreaterThan(0);
    }
  });

  it('that was edited is found at the entry, and what follows is set apart', () => {
    const text = jsonOf(small);
    const edited = text.replace('Slept; the lid was shut', 'All in good order today');
    const at = small.findIndex((e) => e.event.type === 'note-added');
    const parsed = read(parseJournal(edited, chain));
    expect(parsed.verification.firstBad).toEqual({ index: at, reason: 'hash' });
    expect(parsed.entries).toEqual(small.slice(0, at));
    expect(parsed.apart).toHaveLength(small.length - at);
    expect(parsed.problems[0]).toMatchObject({ place: `journal.entries[${at}]`, code: 'hash' });
  });

  it('that lost an entry, or has two swapped, or one twice, is found there', () => {
    const without = small.toSpliced(9, 1);
    const swapped = small.toSpliced(9, 2, present(small[10], '10'), present(small[9], '9'));
    const doubled = small.toSpliced(9, 0, present(small[9], '9'));
    const shorter = { ...JSON.parse(jsonOf(small)), entries: small.slice(0, 9) };
    const firstBad = (text: string) => read(parseJournal(text, chain)).verification.firstBad;
    expect(firstBad(jsonOf(without))).toEqual({ index: 9, reason: 'sequence' });
    expect(firstBad(jsonOf(swapped))).toEqual({ index: 9, reason: 'sequence' });
    expect(firstBad(jsonOf(doubled))).toEqual({ index: 10, reason: 'sequence' });
    expect(firstBad(JSON.stringify(shorter))).toEqual({ index: 9, reason: 'missing' });
  });

  it('shows each of many random flipped bits of 200 entries and keeps all before it', () => {
    const entries = entriesOf(wholeCase('case-1', 200));
    const bytes = new TextEncoder().encode(jsonOf(entries));
    const decoder = new TextDecoder();
    // The line of each byte: 0 is the head of the document, entry k stands on line k + 1.
    const feeds = [...bytes.keys()].filter((i) => bytes[i] === 0x0a);
    const missed: string[] = [];
    fc.assert(
      fc.property(fc.nat(bytes.length * 8 - 1), (bit) => {
        const damaged = Uint8Array.from(bytes);
        damaged[bit >> 3] = (bytes[bit >> 3] ?? 0) ^ (1 << (bit & 7));
        const line = feeds.filter((feed) => feed < bit >> 3).length;
        const parsed = parseJournal(decoder.decode(damaged), chain);
        if (!parsed.ok) {
          // Only the head may be beyond reading: it says what the document is.
          if (line !== 0) missed.push(`bit ${bit} of line ${line}: refused`);
          return;
        }
        const { problems, verification } = parsed.value;
        if (problems.length === 0) missed.push(`bit ${bit} of line ${line}: not found`);
        const kept = line === 0 ? 0 : Math.min(line - 1, 200);
        if (verification.goodCount < kept)
          missed.push(`bit ${bit}: only ${verification.goodCount}`);
        expect(parsed.value.entries.slice(0, kept)).toEqual(entries.slice(0, kept));
      }),
      {
        numRuns: runSize({ long: 5000, part: 500 }),
        seed: runSeed(),
      },
    );
    expect(missed).toEqual([]);
  }, 240_000);

  it('survives any noise', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300, unit: 'binary' }), (noise) => {
        expect(typeof parseJournal(noise, chain).ok).toBe('boolean');
        const text = jsonOf(small.slice(0, 3)).replace('\n', `\n${noise}\n`);
        expect(typeof parseJournal(text, chain).ok).toBe('boolean');
      }),
    );
  });
});

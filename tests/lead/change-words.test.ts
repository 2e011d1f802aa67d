// Whoever reads a difference has no use for keys and ids (common practice, no source).
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { diffProtocols } from '../../src/protocol/diff.ts';
import { applyEdit } from '../../src/protocol/edit.ts';
import {
  addEdit,
  beginHistory,
  type EditHistory,
  reasonedRemovals,
  undoEdit,
} from '../../src/protocol/edit-history.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { toldTexts } from '../../src/protocol/told-texts.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { changeRow } from '../../src/ui/lead/editor/editor-change-model.ts';
import { json, sharedText } from '../protocol/documents.ts';
import { editOf, smallProtocol } from '../protocol/edit-support.ts';

/** Keys of the document, as they stand in it: none is an English word of its own. */
const KEYS =
  /onlyIf|onlyAfter|wayBack|waysBack|beginsWith|roundOf|rangeClass|usesLight|byMaterial|[a-z]Ms\b|until\.|from\.|to\.|\[object|undefined|null/;

function linesOf(before: Protocol, after: Protocol): readonly string[] {
  return diffProtocols(before, after).map((change) => changeRow(change, { before, after }).line);
}

function edited(...edits: readonly Edit[]): Protocol {
  return edits.reduce((protocol, edit) => {
    const next = applyEdit(protocol, edit);
    if (!next.ok) throw new Error(next.error.place);
    return next.value;
  }, smallProtocol());
}

describe('a difference of ways back', () => {
  const again = { part: 'waysBack', id: 'again' } as const;
  const set = (key: string, value: unknown): Edit => ({
    do: 'set-field',
    spot: { ...again, key },
    value,
  });
  const both: readonly unknown[] = [
    { step: 'etch', link: 'same' },
    { step: 'rinse', link: 'all' },
  ];

  it('says what was added and what was taken away, and nothing of what stayed', () => {
    const more = edited(set('voids', both));
    expect(linesOf(smallProtocol(), more)).toEqual([
      'Way back Etch again: to be done again: added Rinse on all of them',
    ]);
    expect(linesOf(more, smallProtocol())).toEqual([
      'Way back Etch again: to be done again: taken away Rinse on all of them',
    ]);
    expect(linesOf(more, edited(set('voids', both.toReversed())))).toEqual([
      'Way back Etch again: to be done again: the same in another order',
    ]);
  });

  it('says so of cautions and of where it holds, in words', () => {
    const [caution] = smallProtocol().cautions;
    const after = edited(
      set('cautions', [caution?.id]),
      set('where', [{ fact: 'restoration', is: ['veneer'] }]),
    );
    const lines = linesOf(smallProtocol(), after);
    expect(lines.toSorted()).toEqual([
      `Way back Etch again: cautions: added “${caution?.words}”`,
      'Way back Etch again: only where: added restoration: Veneer',
    ]);
  });

  it('tells one that came or went with all that it says', () => {
    const [way] = smallProtocol().waysBack;
    const without = edited({ do: 'remove', part: 'waysBack', id: 'again' });
    for (const [lines, verb] of [
      [linesOf(smallProtocol(), without), 'removed'],
      [linesOf(without, smallProtocol()), 'added'],
    ] as const) {
      const line = lines.find((each) => each.startsWith('Way back'));
      expect(line).toContain(`Way back Etch again ${verb}: `);
      expect(line).toContain('to be done again Etch on the same subject');
      expect(line).toContain('fits from the end of Etch');
      expect(line).toContain(`what the app proposes “${way?.proposal}”`);
      expect(line).not.toMatch(KEYS);
    }
  });
});

describe('a difference in words', () => {
  it('names no key of the document, whatever was edited', () => {
    let told = 0;
    fc.assert(
      fc.property(fc.array(fc.nat(), { minLength: 1, maxLength: 12 }), (seeds) => {
        const after = seeds.reduce((protocol, seed) => {
          const [edit] = fc.sample(editOf(protocol), { seed, numRuns: 1 });
          const next = edit === undefined ? null : applyEdit(protocol, edit);
          return next?.ok ? next.value : protocol;
        }, smallProtocol());
        for (const line of linesOf(smallProtocol(), after)) {
          told += 1;
          expect(line).not.toMatch(KEYS);
        }
      }),
      { numRuns: 200 },
    );
    expect(told).toBeGreaterThan(200);
  }, 120_000);

  it('shows a condition, a moment and a step to do again by their titles', () => {
    const at = (part: 'steps' | 'waysBack', id: string, key: string) => ({ part, id, key });
    const after = edited(
      {
        do: 'set-field',
        spot: at('steps', 'coats', 'onlyIf'),
        value: [{ wayBack: 'again' }, { step: 'seat', option: 'yes' }],
      },
      {
        do: 'set-field',
        spot: at('waysBack', 'again', 'until'),
        value: { step: 'rinse', edge: 'start' },
      },
      {
        do: 'set-field',
        spot: at('waysBack', 'again', 'voids'),
        value: [{ step: 'rinse', link: 'all', onlyAfter: 'etch' }],
      },
    );
    const coats = smallProtocol().steps.find(({ id }) => id === 'coats')?.title;
    expect(linesOf(smallProtocol(), after)).toEqual([
      `${coats}: only if none → way back taken: Etch again, or Seat: “yes” was chosen`,
      'Way back Etch again: to be done again: added Rinse on all of them, only where Etch has begun; taken away Etch on the same subject',
      'Way back Etch again: fits until Any time → the start of Rinse',
    ]);
  });
});

describe('why something was taken out', () => {
  const takeOut: Edit = { do: 'remove', part: 'waysBack', id: 'again', reason: 'We stop.' };
  const done = (history: EditHistory, edit: Edit): EditHistory => {
    const next = addEdit(history, edit);
    if (!next.ok) throw new Error(next.error.place);
    return next.value;
  };

  it('is told while it is out, and no more once that was undone', () => {
    const out = done(beginHistory(smallProtocol()), takeOut);
    expect(reasonedRemovals(out)).toEqual([
      { part: 'waysBack', id: 'again', title: 'Etch again', reason: 'We stop.' },
    ]);
    expect(reasonedRemovals(undoEdit(out))).toEqual([]);
  });

  it('is not told of what came and went within the draft', () => {
    const [way] = smallProtocol().waysBack;
    if (way === undefined) throw new Error('no way back');
    const item = { ...way, id: 'new' };
    const added = done(beginHistory(smallProtocol()), {
      do: 'add',
      part: 'waysBack',
      item,
      before: null,
    });
    expect(reasonedRemovals(done(added, { ...takeOut, id: 'new' }))).toEqual([]);
  });
});

const FAMILIES = [
  'preparation',
  'composite-inlay-onlay-dual-cured',
  'glass-ceramic-onlay-crown-dual-cured',
  'thin-veneers-universal-selective-etch',
  'zirconia-crown-wing-bridge-dual-cured',
].map((id) => {
  const parsed = parseProtocol(json(sharedText(`protocols/${id}.json`)));
  if (!parsed.ok) throw new Error(id);
  return parsed.value;
});

/** Ids and codes that no English word looks like: everything with a hyphen that is not a told text. */
function codesOf(protocol: Protocol): ReadonlySet<string> {
  const told = FAMILIES.flatMap(toldTexts).join(' ');
  const quoted = canonicalText(protocol).match(/"[a-z0-9]+(?:-[a-z0-9]+)+"/g) ?? [];
  const codes = quoted.map((text) => text.slice(1, -1));
  const isWord = (code: string): boolean => new RegExp(`\\b${code}\\b`).test(told);
  return new Set(codes.filter((code) => !isWord(code)));
}

describe('differences of the families that ship', () => {
  it('are told without an id, a code or a bare number of milliseconds', () => {
    const codes = new Map(FAMILIES.map((family) => [family.id, codesOf(family)]));
    const wrong: string[] = [];
    for (const before of FAMILIES) {
      const after = FAMILIES[(FAMILIES.indexOf(before) + 1) % FAMILIES.length] ?? before;
      const known = [...(codes.get(before.id) ?? []), ...(codes.get(after.id) ?? [])];
      for (const change of diffProtocols(before, after)) {
        const row = changeRow(change, { before, after });
        const text = `${row.what} | ${row.before} | ${row.after} | ${row.line}`;
        const code = known.find((each) => new RegExp(`(?<![\\w-])${each}(?![\\w-])`).test(text));
        if (code !== undefined || /\b\d{4,}000\b|\b[1-9]\d*000 practice/.test(text))
          wrong.push(text);
        // A material may go by another id and the same label; that, too, has to be said.
        const isSaid = row.before !== row.after || row.line.includes('the same in words');
        if (!isSaid) wrong.push(`same: ${text}`);
      }
    }
    expect(wrong.slice(0, 20)).toEqual([]);
  });
});

describe('a step that came', () => {
  it('is told with all that it says, so that it can be read before it is confirmed', () => {
    const inlay = FAMILIES.find(({ id }) => id === 'composite-inlay-onlay-dual-cured');
    if (inlay === undefined) throw new Error('no inlay');
    const steps = inlay.steps.filter(({ id }) => id !== 'abrade');
    const added = diffProtocols({ ...inlay, steps }, inlay).filter(({ kind }) => kind === 'added');
    const after = { before: { ...inlay, steps }, after: inlay };
    const [line = ''] = added.map((change) => changeRow(change, after).line);
    const abrade = inlay.steps.find(({ id }) => id === 'abrade');
    for (const text of [
      abrade?.instruction ?? 'missing',
      abrade?.words?.end ?? 'missing',
      'kind of step: Air abrasion',
      'done for: each unit',
      'waits for: ',
    ]) {
      expect(line.replaceAll('\u00a0', ' ')).toContain(text);
    }
  });
});

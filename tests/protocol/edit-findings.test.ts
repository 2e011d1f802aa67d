import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyEdit } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import { checkRanges } from '../../src/protocol/ranges.ts';
import { checkPractice } from '../../src/protocol/ranges-practice.ts';
import { parseRanges } from '../../src/protocol/ranges-table.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { caseText, json, sharedText, templateText } from './documents.ts';

const ranges = (() => {
  const parsed = parseRanges(json(sharedText('tables/step-ranges.json')));
  if (!parsed.ok) throw new Error(parsed.error[0]?.place);
  return parsed.value;
})();

function protocolOf(text: string): Protocol {
  const parsed = parseProtocolText(text);
  if (!parsed.ok) throw new Error(parsed.error[0]?.place);
  return parsed.value;
}

const template = protocolOf(templateText());

function edited(...edits: readonly Edit[]): Protocol {
  return edits.reduce((protocol, edit) => {
    const next = applyEdit(protocol, edit);
    if (!next.ok) throw new Error(`${next.error.place}: ${next.error.expected}`);
    return next.value;
  }, template);
}

const etch = (key: string, value: number): Edit => ({
  do: 'set-figure',
  spot: { part: 'steps', id: 'etch', key },
  figure: { value, basis: { kind: 'practice' } },
});

describe('published ranges', () => {
  // Wang & Lu, Am J Orthod Dentofacial Orthop 1991;100:72-79: 15 to 90 s alike, fragments in 0 to 4 %
  // of failures above 30 s; Eur J Orthod 1998;20:195: 60 as 30 s. The limit of 60 s is common practice.
  it.each([
    [15_000, 0],
    [20_000, 0],
    [60_000, 0],
    [14_000, 1],
    [61_000, 1],
  ])('an etch of enamel of %d ms gives %d cautions', (ms, count) => {
    const found = checkRanges(edited(etch('action.targetMs', ms)), ranges);
    const own = found.filter((finding) => finding.place.endsWith('action.targetMs'));
    expect(own).toHaveLength(count);
    expect(own.every(({ level }) => level === 'caution')).toBe(true);
    if (count > 0) expect(String(own[0]?.values['source'])).toContain('1991;100:72-79');
  });

  // Hashimoto et al., Operative Dentistry 2004;29:416-423: strength rises up to the fourth coat.
  it('five coats of adhesive are told with the range and its source', () => {
    const own = checkRanges(template, ranges).filter(({ place }) => place.includes('action.count'));
    expect(own).toMatchObject([{ values: { value: 5, max: 4, standing: 'found' } }]);
  });

  it('only rows that were found in a source are called published', () => {
    for (const row of ranges) {
      const isSourced = /\d{4}/.test(row.source);
      if (row.standing === 'found') expect(isSourced).toBe(true);
      if (row.standing === 'common practice') expect(row.source).toContain('no source');
    }
  });
});

// Rules of the trade: common practice, no source.
describe('cautions of the trade', () => {
  const codes = (protocol: Protocol, cases: Parameters<typeof checkPractice>[1] = []) =>
    checkPractice(protocol, cases).map((finding) => finding.code);
  const spec = (() => {
    const parsed = parseCaseText(caseText('two-veneers'));
    if (!parsed.ok) throw new Error(parsed.error[0]?.place);
    return parsed.value;
  })();

  it('the shipped template gives none', () => {
    expect(codes(template, [spec])).toEqual([]);
  });

  it('primed units without a shield', () => {
    const bare = edited({ do: 'remove', part: 'windows', id: 'shield' });
    expect(codes(bare)).toContain('primed-unshielded');
  });

  it('a working time of a mix without a sample bead', () => {
    const bare = edited({ do: 'remove', part: 'steps', id: 'sample-bead' });
    expect(codes(bare)).toContain('working-without-bead');
  });

  it('a side of the unit that no light reaches', () => {
    const spot = { part: 'steps', id: 'expose', key: 'action.surfaces' } as const;
    const dark = edited({
      do: 'set-field',
      spot,
      value: ['facial', 'incisal', 'mesial', 'distal'],
    });
    expect(checkPractice(dark, [])).toMatchObject([
      { code: 'surface-missing', values: { surfaces: ['lingual'] } },
    ]);
  });

  // Acid does not etch zirconia: review in Dentistry Journal 2019 (PMC6784479).
  it('hydrofluoric acid on zirconia, by the protocol or by a prepared case, but not on silicates', () => {
    const spot = { part: 'protocol', id: '', key: 'restorations' } as const;
    expect(codes(edited({ do: 'set-field', spot, value: ['zirconia crown'] }))).toContain(
      'acid-on-zirconia',
    );
    const silicate = ['zirconia-reinforced lithium silicate crown'];
    expect(codes(edited({ do: 'set-field', spot, value: silicate }))).toEqual([]);
    const units = spec.units.map((unit) => ({ ...unit, material: 'zirconia-4y' }));
    expect(codes(template, [{ ...spec, units }])).toContain('acid-on-zirconia');
  });

  it('a step of a role that a prepared case has nobody for, and one that nothing opens', () => {
    const people = spec.people.filter((person) => person.role === 'dentist');
    expect(codes(template, [{ ...spec, people }])).toContain('nobody-does-it');
    const value = [{ step: 'shade', option: 'never' }];
    const closed = edited({
      do: 'set-field',
      spot: { part: 'steps', id: 'seat', key: 'onlyIf' },
      value,
    });
    expect(codes(closed)).toContain('nobody-does-it');
  });

  it('every shipped protocol is free of them', () => {
    const names = [
      'composite-inlay-onlay-dual-cured',
      'glass-ceramic-onlay-crown-dual-cured',
      'thin-veneers-universal-selective-etch',
      'zirconia-crown-wing-bridge-dual-cured',
    ];
    for (const name of names) {
      const url = new URL(`../../shared/protocols/${name}.json`, import.meta.url);
      expect([name, codes(protocolOf(readFileSync(url, 'utf8')))]).toEqual([name, []]);
    }
  });
});

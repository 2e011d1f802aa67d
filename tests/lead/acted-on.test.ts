// Findings that a clinic lead can act on. That 10 h of etching, 500 coats and 1000 J/cm² are slips is
// common practice, no source; that acid, light and resin hurt is said by the sources in `cautions.test.ts`.
import { describe, expect, it } from 'vitest';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { findingWords } from '../../src/words/finding-words.ts';
import { protocolNamed } from '../families/family-chair.ts';
import { template } from './lead-support.ts';

const figure = (value: number) => ({ value, basis: { kind: 'practice' } }) as const;

function edited(protocol: Protocol, ...edits: readonly Edit[]): Protocol {
  const next = replayEdits(protocol, edits);
  if (!next.ok) throw new Error(JSON.stringify(next.error[0]));
  return next.value;
}

const set = (id: string, key: string, value: number): Edit => ({
  do: 'set-figure',
  spot: { part: 'steps', id, key },
  figure: figure(value),
});

function said(protocol: Protocol, code: string): readonly string[] {
  const found = checkProtocol(protocol).filter((finding) => finding.code === code);
  expect(found.every(({ level }) => level === 'caution')).toBe(true);
  return found.map((finding) => findingWords(finding).replaceAll('\u00a0', ' '));
}

describe('a number that nobody means', () => {
  const rows: readonly (readonly [name: string, edit: Edit, words: RegExp])[] = [
    [
      'an etch of 10 h',
      set('etch', 'action.maxMs', 36_000_000),
      /^Hardly meant: 10 h\. .* 1 s .* 1 h/,
    ],
    ['500 ms of adhesive', set('adhesive-stand', 'action.targetMs', 500), /^Hardly meant: 0\.5 s/],
    ['100 coats', set('coats', 'action.count', 100), /^Hardly meant: 100\. .* 20 /],
    [
      '1000 J/cm²',
      set('expose', 'action.doseJPerCm2', 1000),
      /^Hardly meant: 1000 J\/cm²\. .* 100 J/,
    ],
    ['a rest of 1 ms', set('expose', 'action.restMs', 1), /^Hardly meant: 0\.001 s/],
    [
      'a window of 30 days',
      {
        do: 'set-figure',
        spot: { part: 'windows', id: 'shield', key: 'maxMs' },
        figure: figure(2_592_000_000),
      },
      /^Hardly meant: (?:720 h|30 d)/,
    ],
  ];
  it.each(rows)('is told: %s', (_name, edit, words) => {
    const found = said(edited(template(), edit), 'hardly-meant');
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(words);
  });

  it('is no number of what ships', () => {
    expect(said(template(), 'hardly-meant')).toEqual([]);
  });
});

const bare = (id: string): Edit => ({ do: 'clear', spot: { part: 'steps', id, key: 'cautions' } });

describe('a caution that is missing where its hazard is', () => {
  const rows: readonly (readonly [step: string, protocol: string, words: RegExp])[] = [
    ['acid', 'thin-veneers-separate-bottle-etch-and-rinse', /speaks of hydrofluoric acid/],
    ['acid-rinse', 'thin-veneers-separate-bottle-etch-and-rinse', /speaks of hydrofluoric acid/],
    ['etch', 'thin-veneers-separate-bottle-etch-and-rinse', /speaks of etching gel/],
    ['expose', 'thin-veneers-separate-bottle-etch-and-rinse', /speaks of the light/],
    ['bond-light', 'thin-veneers-separate-bottle-etch-and-rinse', /speaks of the light/],
    ['coats', 'thin-veneers-separate-bottle-etch-and-rinse', /speaks of uncured resin/],
    ['abrade', 'zirconia-crown-wing-bridge-dual-cured', /speaks of the dust/],
    ['dust-off', 'zirconia-crown-wing-bridge-dual-cured', /speaks of the alkaline cleaner/],
  ];
  it.each(rows)('is told at “%s” of %s', (step, id, words) => {
    const protocol = protocolNamed(id);
    expect(said(protocol, 'hazard-without-caution')).toEqual([]);
    const found = said(edited(protocol, bare(step)), 'hazard-without-caution');
    expect(found.join(' ')).toMatch(words);
  });

  it('is not read from words in another language: there any caution will do', () => {
    const german = { ...template(), language: 'de', cautions: [{ id: 'c1', words: 'Vorsicht.' }] };
    const steps = german.steps.map((step) => ({ ...step, cautions: ['c1'] }));
    expect(said({ ...german, steps }, 'hazard-without-caution')).toEqual([]);
    const [first, ...rest] = steps.filter(({ id }) => id === 'etch');
    if (first === undefined) throw new Error('no etch');
    const { cautions: _none, ...uncautioned } = first;
    expect(
      said({ ...german, steps: [uncautioned, ...rest] }, 'hazard-without-caution'),
    ).toHaveLength(1);
  });
});

describe('titles and the signature', () => {
  it('a title that cannot be read from two metres is told with its length', () => {
    const long: Edit = {
      do: 'set-text',
      spot: { part: 'steps', id: 'etch', key: 'title' },
      text: 'Etch all the enamel',
    };
    expect(said(edited(template(), long), 'title-too-long')).toEqual([
      'The title has 19 characters. At most 14 can be read from two metres.',
    ]);
  });

  it('a step behind the signature is told, and none before it', () => {
    expect(said(template(), 'after-signature')).toEqual([]);
    const behind: Edit = { do: 'move', part: 'steps', id: 'glycerine', before: null };
    expect(said(edited(template(), behind), 'after-signature')).toEqual([
      '“Glycerine” stands behind “Sign”, which ends the case. Move it in front.',
    ]);
  });

  it('a material that no step uses is told by its label', () => {
    const slot = { id: 'spare', materialClass: 'wax', label: 'Wax', refrigerated: false };
    const added: Edit = { do: 'add', part: 'slots', item: slot, before: null };
    expect(said(edited(template(), added), 'unused')).toEqual(['No step uses “Wax”.']);
  });
});

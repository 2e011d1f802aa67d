/** Why a case does not fit its protocol, as sentences: units that are alike are named together. */
import { describe, expect, it } from 'vitest';
import { checkCaseFits } from '../../src/protocol/check-materials.ts';
import { restorationOptions, restorationWord } from '../../src/words/material-words.ts';
import { fitLines } from '../../src/words/set-up-words.ts';
import { caseOf, ETCH_ROUND } from '../engine/fixture.ts';

const specWith = (kinds: Readonly<Record<string, string>>) => {
  const spec = caseOf(Object.keys(kinds));
  return {
    ...spec,
    units: spec.units.map((u) => ({ ...u, restoration: kinds[u.id] ?? u.restoration })),
  };
};

const lines = (kinds: Readonly<Record<string, string>>) => {
  const spec = specWith(kinds);
  const protocol = { ...ETCH_ROUND, restorations: ['veneer', 'onlay'] };
  return fitLines(checkCaseFits(spec, protocol), spec);
};

describe('what does not fit', () => {
  it('is said of one unit in the singular and of several in the plural', () => {
    expect(lines({ '11': 'bridge', '12': 'veneer' })).toEqual([
      '11 is a bridge. The protocol is written for veneers and onlays.',
    ]);
    expect(lines({ '11': 'crown', '12': 'crown', '21': 'inlay' })).toEqual([
      '11 and 12 are crowns. The protocol is written for veneers and onlays.',
      '21 is an inlay. The protocol is written for veneers and onlays.',
    ]);
  });

  it('is called as in the file where the kind is not known here', () => {
    expect(lines({ '11': 'constructor' })).toEqual([
      '11 is constructor. The protocol is written for veneers and onlays.',
    ]);
  });
});

describe('the kinds to choose from', () => {
  it('are the known ones and the one that a file brought along', () => {
    expect(restorationOptions('').map((o) => o.label)).toEqual([
      'Veneer',
      'Inlay',
      'Onlay',
      'Crown',
      'Bridge',
    ]);
    expect(restorationOptions('crown')).toHaveLength(5);
    expect(restorationOptions('post').at(-1)).toEqual({ value: 'post', label: 'post' });
    expect(restorationWord('post')).toBe('post');
  });
});

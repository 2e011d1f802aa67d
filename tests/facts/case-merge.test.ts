/** A prepared case that two tablets changed. */
import { describe, expect, it } from 'vitest';
import spec from '../../demo-data/cases/two-veneers.json' with { type: 'json' };
import { asFact, type Fact } from '../../src/runtime/facts/fact.ts';
import { preparedEntry, seenAs } from '../../src/runtime/library/case-facts.ts';

const said = (title: string) => ({ type: 'prepared', spec: { ...spec, title } });

function fact(tablet: string, what: unknown, ...after: readonly Fact[]): Fact {
  const known = after.map(({ id }) => id).toSorted();
  const plain = { kind: 'prepared-case', item: spec.id, by: null, atWallMs: 1 } as const;
  return asFact({ ...plain, tablet, said: what, after: known });
}

describe('a prepared case', () => {
  const first = fact('a', said('first'));

  it('is what was kept last by somebody who knew the rest', () => {
    const second = fact('b', said('second'), first);
    for (const facts of [
      [first, second],
      [second, first],
    ]) {
      expect(preparedEntry(facts)).toMatchObject({ spec: { title: 'second' }, others: [] });
    }
  });

  it('that two tablets changed without knowing of each other is told with both', () => {
    const here = fact('a', said('here'), first);
    const there = fact('b', said('there'), first);
    const titles = (facts: readonly Fact[]) => {
      const { spec: own, others } = preparedEntry(facts);
      return [own, ...others].map((each) => each?.title);
    };
    expect(titles([first, here, there]).toSorted()).toEqual(['here', 'there']);
    expect(titles([there, here, first])).toEqual(titles([first, here, there]));
    const settled = fact('a', said('settled'), here, there);
    expect(titles([first, here, there, settled])).toEqual(['settled']);
  });

  it('keeps the allergies of both until somebody settles it, and each of them once', () => {
    const { allergies: _, ...bare } = spec;
    const prepared = (title: string, allergies?: string) => ({
      type: 'prepared',
      spec: { ...bare, title, ...(allergies !== undefined && { allergies }) },
    });
    const here = fact('a', prepared('here', 'Latex; nickel'), first);
    const there = fact('b', prepared('there', 'Methacrylates, patch test 2024\nlatex'), first);
    const both = preparedEntry([first, here, there]);
    // Each is read aloud: none that one tablet knows of may be left out of what is begun meanwhile.
    expect(both.spec?.allergies?.split('; ').toSorted()).toEqual(
      [
        'Methacrylates, patch test 2024',
        'nickel',
        both.spec?.title === 'here' ? 'Latex' : 'latex',
      ].toSorted(),
    );
    expect(both.others).toHaveLength(1);
    // Changed as it is shown: what was only the other's beside the allergies stays beside it.
    if (both.spec === null) throw new Error('no case');
    const seen = seenAs(both.spec)([first, here, there]);
    expect(seen).toEqual([both.spec.title === 'here' ? here.id : there.id]);
    const noneThere = fact('b', prepared('there'), first);
    const one = preparedEntry([first, fact('a', prepared('here', 'Latex'), first), noneThere]);
    expect(one.spec?.allergies).toBe('Latex');
  });

  it('that differs in allergies alone is settled by keeping it as it is shown', () => {
    const of = (allergies: string) => ({ type: 'prepared', spec: { ...spec, allergies } });
    const here = fact('a', of('Latex'), first);
    const there = fact('b', of('Nickel'), first);
    const { spec: shown } = preparedEntry([first, here, there]);
    if (shown === null) throw new Error('no case');
    expect(seenAs(shown)([first, here, there]).toSorted()).toEqual([here.id, there.id].toSorted());
  });

  it('that was put away on one and changed on the other stays', () => {
    const away = fact('a', { type: 'put-away' }, first);
    const changed = fact('b', said('changed'), first);
    expect(preparedEntry([first, away])).toMatchObject({ spec: null, others: [] });
    expect(preparedEntry([first, away, changed])).toMatchObject({ spec: { title: 'changed' } });
  });
});

import { describe, expect, test } from 'vitest';
import { pseudoWords } from '../../.ci/vite/pseudo-language.ts';
import { pseudoText } from '../../.ci/vite/pseudo-text.ts';

describe('the pseudo-language', () => {
  test('a text is 40 % longer and has no plain word left', () => {
    const text = 'Bring all materials to room temperature before the appointment begins';
    const told = pseudoText(text);
    const letters = (s: string): number => s.replaceAll(' ', '').length;
    expect(letters(told) / letters(text)).toBeCloseTo(1.4, 1);
    expect(told).not.toMatch(/\b(the|room|before)\b/);
  });

  test('texts are told in brackets; codes, keys and what is put into a text stay', () => {
    const at = '$' + '{o.at}';
    const told = pseudoWords(
      [
        "import { pluralIn } from '../grammar.ts';",
        "const plural = pluralIn('en');",
        'export const x = {',
        "  title: 'Plan',",
        "  'two-words': 'It is',",
        '  of: (o: { kind: "a" | "b"; at: string }) =>',
        `    o.kind === 'a' ? \`See ${at} now\` : '',`,
        "  n: (count: number) => plural(count, { one: '1 unit', other: '2 units' }),",
        '};',
      ].join('\n'),
    );
    expect(told).toContain("from '../grammar.ts'");
    expect(told).toContain("pluralIn('en')");
    expect(told).toContain('title: `⟦Pĺááň⟧`');
    expect(told).toContain("'two-words': `⟦Íť ííš⟧`");
    expect(told).toContain('"a" | "b"');
    expect(told).toContain(`o.kind === 'a' ? \`⟦Šééé ${at} ňóŵŵ⟧\``);
    expect(told).toContain('other: `⟦2 úňííťšš⟧`');
  });
});

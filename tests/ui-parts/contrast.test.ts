// Contrast after WCAG 2.2 (W3C Recommendation 2023), definitions of "relative luminance" and
// "contrast ratio": at least 4.5 for text and 3 for graphics (1.4.3, 1.4.11), 7 for text in the
// chair (1.4.6). The formula is checked first against two greys whose ratios are widely published.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync(new URL('../../src/ui/theme/tokens.css', import.meta.url), 'utf8');

type Theme = ReadonlyMap<string, string>;

function declarations(block: string): Theme {
  return new Map(
    [...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)].map((m) => [m[1] ?? '', m[2] ?? '']),
  );
}

function blockOf(selector: string): string {
  const start = css.indexOf(`${selector} {`);
  if (start < 0) throw new Error(`no block ${selector}`);
  return css.slice(start, css.indexOf('\n}', start));
}

const themes: Readonly<Record<string, Theme>> = {
  light: declarations(blockOf(':root')),
  dark: declarations(blockOf(":root[data-theme='dark']")),
  amber: declarations(blockOf(":root[data-theme='amber']")),
};

const channels = (hex: string): readonly [number, number, number] => [
  Number.parseInt(hex.slice(1, 3), 16),
  Number.parseInt(hex.slice(3, 5), 16),
  Number.parseInt(hex.slice(5, 7), 16),
];

function luminance(hex: string): number {
  const [r, g, b] = channels(hex).map((value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0);
}

function contrast(a: string, b: string): number {
  const [hi = 0, lo = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (hi + 0.05) / (lo + 0.05);
}

const CHAIR_TEXT = [
  ['ink', 'ground'],
  ['ink', 'ground-raised'],
  ['ink', 'accent-soft'],
  ['ink', 'over-soft'],
  ['ink-soft', 'ground'],
  ['ink-soft', 'ground-raised'],
  ['accent', 'ground'],
  ['over', 'ground'],
  ['bar-ink', 'bar-fill'],
  ['on-over', 'over-fill'],
  ['ground', 'ink'],
] as const;

const TEXT = [
  ['accent', 'ground-raised'],
  ['on-accent', 'accent'],
  ['ink-soft', 'accent-soft'],
  ['ink-soft', 'ground-sunk'],
  ['over', 'ground-raised'],
  ['over', 'over-soft'],
] as const;

const GRAPHICS = [
  ['line-strong', 'ground'],
  ['line-strong', 'ground-raised'],
  ['accent', 'ground-raised'],
  ['done', 'ground-raised'],
  ['done', 'ground'],
  ['over', 'over-soft'],
  ['focus', 'ground'],
] as const;

function ratio(theme: string, pair: readonly [string, string]): number {
  const tokens = themes[theme];
  const [front, back] = pair.map((name) => tokens?.get(name));
  if (front === undefined || back === undefined) throw new Error(`${theme}: ${pair} not defined`);
  return contrast(front, back);
}

describe('the formula', () => {
  it('gives the published ratios of two greys on white', () => {
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
    expect(contrast('#000000', '#ffffff')).toBe(21);
  });
});

describe.each(Object.keys(themes))('%s theme', (theme) => {
  it.each(CHAIR_TEXT)('%s on %s is at least 7 to 1', (...pair) => {
    expect(ratio(theme, pair)).toBeGreaterThanOrEqual(7);
  });

  it.each(TEXT)('%s on %s is at least 4.5 to 1', (...pair) => {
    expect(ratio(theme, pair)).toBeGreaterThanOrEqual(4.5);
  });

  it.each(GRAPHICS)('%s on %s is at least 3 to 1', (...pair) => {
    expect(ratio(theme, pair)).toBeGreaterThanOrEqual(3);
  });
});

describe('amber theme', () => {
  it('redefines every colour of the light theme', () => {
    expect([...(themes['amber']?.keys() ?? [])].sort()).toEqual(
      [...(themes['light']?.keys() ?? [])].sort(),
    );
  });

  it('has no blue in any colour', () => {
    for (const [name, hex] of themes['amber'] ?? []) {
      expect({ name, blue: channels(hex)[2] }).toEqual({ name, blue: 0 });
    }
    expect(blockOf(":root[data-theme='amber']")).toMatch(/--veil: rgb\(\d+ \d+ 0 /);
  });

  it('is far darker than the light theme where nothing is drawn', () => {
    const amber = luminance(themes['amber']?.get('ground') ?? '');
    const light = luminance(themes['light']?.get('ground') ?? '');
    expect(amber).toBeLessThan(light / 200);
  });
});

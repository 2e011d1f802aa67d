/**
 * States are told apart without colour. Each family of states is drawn by the app's own parts in a real
 * browser, in the three looks; its pixels are then seen through full protanopia, deuteranopia and
 * tritanopia, and in greys, and every pair is compared.
 *
 * Simulation: Machado, Oliveira & Fernandes, IEEE Trans Vis Comput Graph 2009;15:1291
 * (DOI 10.1109/TVCG.2009.113), severity 1, as the library culori has it; its
 * matrices are checked against the printed ones. Colour difference: CIEDE2000 (ISO/CIE 11664-6:2014). A pixel counts as
 * different from 10 on, and a pair as told apart when the differing pixels make up a share that is
 * our own choice, with the words taken out; the words must differ as well.
 */
import {
  differenceCiede2000,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  type Rgb,
} from 'culori';
import type { ReactNode } from 'react';
import { expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { render } from 'vitest-browser-react';
import '../../src/ui/theme/theme.css';
import { Arch } from '../../src/ui/parts/Arch.tsx';
import { CueCard } from '../../src/ui/parts/CueCard.tsx';
import { PressBar } from '../../src/ui/parts/PressBar.tsx';
import { WindowList } from '../../src/ui/parts/WindowList.tsx';
import { cueWords } from '../../src/words/clock-words.ts';
import { partWords } from '../../src/words/part-words.ts';

const THEMES = ['light', 'dark', 'amber'] as const;

type Filter = (colour: Rgb) => Rgb;

const byChannel =
  (change: (value: number) => number) =>
  (colour: Rgb): Rgb => ({
    mode: 'rgb',
    r: change(colour.r),
    g: change(colour.g),
    b: change(colour.b),
  });
// Transfer function of sRGB (IEC 61966-2-1:1999).
const toLinear = byChannel((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
const toEncoded = byChannel((v) => {
  const inside = Math.min(1, Math.max(0, v));
  return inside <= 0.0031308 ? 12.92 * inside : 1.055 * inside ** (1 / 2.4) - 0.055;
});

const MATRICES = {
  protanopia: filterDeficiencyProt(1),
  deuteranopia: filterDeficiencyDeuter(1),
  tritanopia: filterDeficiencyTrit(1),
};

const grey: Filter = ({ r, g, b }) => {
  const level = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return { mode: 'rgb', r: level, g: level, b: level };
};
/** The library takes the numbers as they are; the paper's matrices are for linear light. */
const inLinearLight =
  (filter: Filter): Filter =>
  (colour) =>
    toEncoded(filter(toLinear(colour)));

const DEFICIENCIES: Readonly<Record<string, Filter>> = {
  protanopia: inLinearLight(MATRICES.protanopia),
  deuteranopia: inLinearLight(MATRICES.deuteranopia),
  tritanopia: inLinearLight(MATRICES.tritanopia),
  greys: inLinearLight(grey),
};

/** A pixel that differs by so much is a plain difference, not a shade. */
const PLAIN_DIFFERENCE = 10;
/** Share of the drawing's pixels that must differ plainly. */
const SHARE_MIN = 0.004;

interface State {
  readonly name: string;
  readonly words: string;
  readonly part: ReactNode;
}

interface Family {
  readonly name: string;
  readonly states: readonly State[];
}

const nothing = (): void => undefined;

const tooth = (state: keyof typeof partWords.toothState): State => ({
  name: state,
  words: partWords.toothState[state],
  part: (
    <Arch
      hideSides
      teeth={[{ id: '11', label: '11', word: 'word', state, progress: 0.5, active: false }]}
    />
  ),
});

const level = (name: 'calm' | 'closing' | 'broken', elapsedMs: number): State => ({
  name,
  words: name,
  part: (
    <WindowList
      clocks={[
        {
          id: 'w',
          label: 'Working time',
          level: name,
          times: {
            kind: 'window',
            elapsedLoMs: elapsedMs,
            elapsedHiMs: elapsedMs,
            rimMs: 100_000,
          },
        },
      ]}
    />
  ),
});

const bar = (urgency: keyof typeof partWords.urgency): State => ({
  name: urgency,
  words: partWords.urgency[urgency],
  part: <PressBar words="Gel on 12" urgency={urgency} onPress={nothing} />,
});

const KINDS = ['over', 'closing', 'broken'] as const;
const CUE_OF = { over: 'over', closing: 'window-closing', broken: 'window-broken' } as const;
const cue = (kind: (typeof KINDS)[number]): State => ({
  name: kind,
  words: cueWords(CUE_OF[kind], { title: 'Etch', subject: '' }),
  part: <CueCard kind={kind} words="words" ageMs={0} onAcknowledge={nothing} />,
});

const FAMILIES: readonly Family[] = [
  {
    name: 'tooth',
    states: (
      ['waiting', 'active', 'running', 'done', 'over', 'short', 'skipped', 'voided'] as const
    ).map(tooth),
  },
  {
    name: 'window',
    states: [level('calm', 40_000), level('closing', 95_000), level('broken', 112_000)],
  },
  { name: 'bar', states: (['ready', 'early', 'due', 'over'] as const).map(bar) },
  { name: 'alert', states: KINDS.map(cue) },
];

interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

async function decode(base64: string): Promise<Picture> {
  const bytes = Uint8Array.from(atob(base64), (c) => c.codePointAt(0) ?? 0);
  const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
  const pen = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d');
  if (pen === null) throw new Error('no canvas');
  pen.drawImage(bitmap, 0, 0);
  return pen.getImageData(0, 0, bitmap.width, bitmap.height);
}

/** Draws one state by itself, its letters unseen but in their place. */
async function pictureOf(state: State): Promise<Picture> {
  const screen = await render(
    <div data-testid="state" style={{ width: 360, padding: 12, background: 'var(--ground)' }}>
      {state.part}
    </div>,
  );
  const element = screen.getByTestId('state').element();
  for (const letters of element.querySelectorAll<HTMLElement>('p, span')) {
    if (letters.querySelector('svg') === null) letters.style.color = 'transparent';
  }
  const { base64 } = await page.screenshot({ element, base64: true });
  await screen.unmount();
  return decode(base64);
}

const difference = differenceCiede2000();

function pixelAt(picture: Picture, x: number, y: number): number {
  const at = (y * picture.width + x) * 4;
  const [r = 0, g = 0, b = 0] = picture.data.subarray(at, at + 3);
  return r * 65_536 + g * 256 + b;
}

const colourOf = (rgb: number): Rgb => ({
  mode: 'rgb',
  r: Math.floor(rgb / 65_536) / 255,
  g: (Math.floor(rgb / 256) % 256) / 255,
  b: (rgb % 256) / 255,
});

/** Share of the pixels of both that differ plainly once seen through the filter. */
function plainShare(a: Picture, b: Picture, filter: Filter): number {
  const width = Math.max(a.width, b.width);
  const height = Math.max(a.height, b.height);
  const known = new Map<string, boolean>();
  let plain = 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      if (x >= a.width || x >= b.width || y >= a.height || y >= b.height) continue;
      const [one, other] = [pixelAt(a, x, y), pixelAt(b, x, y)];
      if (one === other) continue;
      const key = `${one} ${other}`;
      let isPlain = known.get(key);
      if (isPlain === undefined) {
        isPlain = difference(filter(colourOf(one)), filter(colourOf(other))) >= PLAIN_DIFFERENCE;
        known.set(key, isPlain);
      }
      if (isPlain) plain += 1;
    }
  }
  return plain / (width * height);
}

const pairs = <T,>(list: readonly T[]): [T, T][] =>
  list.flatMap((one, at) => list.slice(at + 1).map((other): [T, T] => [one, other]));

test('the comparison finds two drawings that differ in hue alone to be the same in greys', () => {
  const flat = (rgb: readonly number[]): Picture => ({
    width: 2,
    height: 1,
    data: new Uint8ClampedArray([...rgb, 255, ...rgb, 255]),
  });
  // A red and a green of one luminance.
  const [red, green] = [flat([200, 60, 60]), flat([0, 117, 60])];
  expect(plainShare(red, green, (c) => c)).toBe(1);
  expect(plainShare(red, green, DEFICIENCIES['greys'] ?? grey)).toBe(0);
});

// The matrices at severity 1 as the paper prints them, Table 1 (from memory): what is left of pure red.
test.each([
  ['protanopia', [0.152286, 0.114503, -0.003882]],
  ['deuteranopia', [0.367322, 0.280085, -0.01182]],
  ['tritanopia', [1.255528, -0.078411, 0.004733]],
] as const)('the simulation of %s has the published matrix', (name, column) => {
  const { r, g, b } = MATRICES[name]({ mode: 'rgb', r: 1, g: 0, b: 0 });
  [r, g, b].forEach((channel, at) => {
    expect(channel).toBeCloseTo(column[at] ?? Number.NaN, 5);
  });
});

test.each(FAMILIES.map((family) => [family.name, family] as const))(
  'every state of a %s is told from every other by shape and by word, whatever the eye',
  async (_, { name, states }) => {
    const least = new Map<string, number>();
    const alike: string[] = [];
    for (const theme of THEMES) {
      document.documentElement.dataset['theme'] = theme;
      const pictures: { state: State; picture: Picture }[] = [];
      for (const state of states) pictures.push({ state, picture: await pictureOf(state) });
      for (const [a, b] of pairs(pictures)) {
        for (const [deficiency, filter] of Object.entries(DEFICIENCIES)) {
          const share = plainShare(a.picture, b.picture, filter);
          least.set(deficiency, Math.min(share, least.get(deficiency) ?? 1));
          if (share < SHARE_MIN) {
            const pair = `${a.state.name} and ${b.state.name}`;
            alike.push(`${pair} in ${theme}, ${deficiency}: ${share.toFixed(4)}`);
          }
        }
      }
    }
    delete document.documentElement.dataset['theme'];
    const table = [...least].map(([eye, share]) => `${eye} ${(share * 100).toFixed(1)} %`);
    console.info(`${name}: least share of plainly different pixels: ${table.join(', ')}`);
    expect(alike).toEqual([]);
    expect(new Set(states.map((state) => state.words)).size).toBe(states.length);
  },
);

/** A small protocol and random edits of it, also such as no screen would make. For tests only. */
import fc from 'fast-check';
import {
  type Edit,
  entriesIn,
  figuresOf,
  PARTS,
  type Spot,
} from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Basis, Figure, Protocol, Step } from '../../src/protocol/types.ts';

const practice: Basis = { kind: 'practice' };
const figure = (value: number): Figure => ({ value, basis: practice });
const pace = { medianMs: figure(5_000), p90Ms: figure(8_000) };

/** Five steps that use every kind of link, most kinds of action and most ways of pressing. */
export function smallProtocol(): Protocol {
  const parsed = parseProtocol({
    format: 'lutewatch-protocol',
    formatVersion: 1,
    id: 'small',
    revision: 1,
    title: 'Small',
    summary: 'For tests.',
    restorations: ['veneer'],
    sources: [{ id: 'wang-lu-1991', citation: 'Wang WN, Lu TC, AJODO 1991;100:72-79' }],
    cautions: [{ id: 'acid', words: 'Acid burns.' }],
    slots: [{ id: 'gel', materialClass: 'phosphoric acid gel', label: 'Gel', refrigerated: false }],
    stages: [
      { id: 'etch', title: 'Etch' },
      { id: 'seat', title: 'Seat' },
    ],
    steps: [
      {
        id: 'etch',
        stage: 'etch',
        title: 'Etch',
        per: 'tooth',
        after: [],
        by: 'dentist',
        uses: ['gel'],
        cautions: ['acid'],
        action: {
          kind: 'dwell',
          minMs: figure(15_000),
          targetMs: figure(20_000),
          maxMs: figure(30_000),
        },
        hands: { applyMs: figure(3_000), rinseMs: figure(3_000) },
        pressed: {
          kind: 'sweep',
          end: { shortestMs: figure(3_000), longestMs: figure(9_000) },
        },
        pace,
        rangeClass: 'etch-enamel',
      },
      {
        id: 'rinse',
        stage: 'etch',
        title: 'Rinse',
        per: 'tooth',
        after: [{ step: 'etch', link: 'same' }],
        beginsWith: 'etch',
        roundOf: 'etch',
        by: 'dentist',
        action: { kind: 'dwell', targetMs: figure(10_000) },
        pace,
      },
      {
        id: 'coats',
        stage: 'seat',
        title: 'Coats',
        per: 'tooth',
        after: [{ step: 'rinse', link: 'all' }],
        by: 'dentist',
        action: { kind: 'coats', count: figure(2) },
        pace,
      },
      {
        id: 'seat',
        stage: 'seat',
        title: 'Seat',
        per: 'unit',
        after: [
          { step: 'coats', link: 'linked' },
          { step: 'seat', link: 'previous' },
        ],
        by: 'dentist',
        action: { kind: 'confirm' },
        pressed: { kind: 'list', list: 'seating' },
        pace,
      },
      {
        id: 'light',
        stage: 'seat',
        title: 'Light',
        per: 'unit',
        after: [{ step: 'seat', link: 'same' }],
        by: 'either',
        action: {
          kind: 'expose',
          surfaces: ['facial'],
          perSurfaceMs: figure(10_000),
          walk: 'by-unit',
        },
        pressed: { kind: 'paced', changeMs: figure(4_000) },
        pace,
      },
    ],
    lists: [{ id: 'seating', title: 'Seating', words: 'Seated' }],
    windows: [
      {
        id: 'wet',
        title: 'Wet',
        from: { step: 'rinse', edge: 'end' },
        to: { step: 'coats', edge: 'start' },
        match: 'same',
        maxMs: figure(120_000),
        protects: 'wet',
        severity: 'warning',
        wayBack: 'again',
      },
    ],
    waysBack: [
      {
        id: 'again',
        title: 'Etch again',
        mishap: 'saliva',
        per: 'tooth',
        from: { step: 'etch', edge: 'end' },
        voids: [{ step: 'etch', link: 'same' }],
        proposal: 'Etch again.',
        basis: practice,
      },
    ],
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error[0]));
  return parsed.value;
}

const bases: fc.Arbitrary<Basis> = fc.constantFrom<Basis>(
  practice,
  { kind: 'published', source: 'wang-lu-1991' },
  { kind: 'published', source: 'nobody' },
  {
    kind: 'instructions',
    document: 'IFU',
    revision: '1',
    confirmedBy: 'C',
    confirmedOn: '2026-11-25',
  },
  {
    kind: 'instructions',
    document: '',
    revision: '1',
    confirmedBy: 'C',
    confirmedOn: '2026-02-30',
  },
);

const numbers = fc.oneof(
  fc.integer({ min: 1, max: 200_000 }),
  fc.constantFrom(0, -1, 1.5, Number.NaN, Number.POSITIVE_INFINITY, 1e12),
);

const words = fc.oneof(
  fc.constantFrom('', ' ', 'Title', 'x'.repeat(2_000), '\u0000', '\ud800', '🦷'),
  fc.string({ maxLength: 12 }),
);

const fields: fc.Arbitrary<{ key: string; value: unknown }> = fc.constantFrom<{
  key: string;
  value: unknown;
}>(
  { key: 'after', value: [] },
  { key: 'after', value: [{ step: 'light', link: 'all' }] },
  { key: 'after', value: [{ step: 'nobody', link: 'same' }] },
  { key: 'per', value: 'mix' },
  { key: 'per', value: 'case' },
  { key: 'per', value: 'galaxy' },
  { key: 'by', value: 'assistant' },
  { key: 'together', value: true },
  { key: 'optional', value: true },
  { key: 'action', value: { kind: 'confirm' } },
  { key: 'action', value: { kind: 'choose', options: [] } },
  { key: 'action', value: { kind: 'expose', surfaces: [], walk: 'by-unit' } },
  {
    key: 'action',
    value: { kind: 'tally', passesMax: { value: 3, basis: practice }, label: 'passes' },
  },
  { key: 'onlyIf', value: [{ wayBack: 'again' }] },
  { key: 'beginsWith', value: 'light' },
  { key: 'roundOf', value: 'seat' },
  { key: 'from', value: { step: 'light', edge: 'end' } },
  { key: 'to', value: { step: 'etch', edge: 'start' } },
  { key: 'match', value: 'linked' },
  { key: 'until', value: { step: 'coats', edge: 'start' } },
  { key: 'stage', value: 'seat' },
  { key: 'stage', value: 'nowhere' },
  { key: 'cautions', value: ['acid'] },
  { key: 'cautions', value: ['acid', 'nothing'] },
  { key: 'onlyIf', value: [{ step: 'seat', option: 'yes' }] },
  { key: 'mishap', value: 'blood' },
  { key: 'mishap', value: 'flood' },
  { key: 'voids', value: [{ step: 'light', link: 'linked', onlyAfter: 'seat' }] },
  { key: 'words', value: 'Acid burns skin.' },
  { key: 'citation', value: 'Rivers A, Tide Journal 2024' },
  { key: 'doi', value: '10.1000/182' },
  { key: 'doi', value: '182' },
  { key: 'title', value: 'Other' },
  { key: 'pressed', value: { kind: 'list', list: 'seating' } },
  { key: 'pressed', value: { kind: 'implied', by: ['light', 'seat'] } },
  { key: 'pressed', value: { kind: 'paced', changeMs: figure(2_000), confirmedBy: 'seat' } },
  { key: 'pressed', value: { kind: 'sweep' } },
  { key: 'pressed.confirmedBy', value: 'coats' },
  { key: '__proto__', value: { polluted: true } },
  { key: 'id', value: 'other' },
  { key: 'constructor', value: 1 },
);

const pick = <T>(list: readonly T[], index: number): T | undefined => list[index % list.length];

/** One random edit of what `protocol` is now. Places exist most of the time. */
export function editOf(protocol: Protocol): fc.Arbitrary<Edit> {
  const at = fc.nat({ max: 60 });
  const figures = figuresOf(protocol);
  const stepId = at.map((i) => pick(protocol.steps, i)?.id ?? 'gone');
  const owner = fc.oneof(
    at.map((i) => ({ part: 'steps' as const, id: pick(protocol.steps, i)?.id ?? 'gone' })),
    at.map((i) => ({ part: 'windows' as const, id: pick(protocol.windows, i)?.id ?? 'gone' })),
    at.map((i) => ({ part: 'waysBack' as const, id: pick(protocol.waysBack, i)?.id ?? 'gone' })),
    at.map((i) => ({ part: 'cautions' as const, id: pick(protocol.cautions, i)?.id ?? 'gone' })),
    at.map((i) => ({ part: 'sources' as const, id: pick(protocol.sources, i)?.id ?? 'gone' })),
    at.map((i) => ({ part: 'stages' as const, id: pick(protocol.stages, i)?.id ?? 'gone' })),
    at.map((i) => ({ part: 'lists' as const, id: pick(protocol.lists ?? [], i)?.id ?? 'gone' })),
  );
  const figureSpot: fc.Arbitrary<Spot> = at.map(
    (i) => pick(figures, i)?.spot ?? { part: 'steps', id: 'gone', key: 'action.targetMs' },
  );
  const entry = fc.tuple(fc.constantFrom(...PARTS), at).map(([part, i]) => ({
    part,
    id: pick(entriesIn(protocol, part), i)?.id ?? 'gone',
  }));
  const spot = fc
    .tuple(owner, fields)
    .map(([o, f]) => ({ spot: { ...o, key: f.key }, value: f.value }));
  return fc.oneof(
    fc.tuple(figureSpot, numbers, bases).map(([s, value, basis]): Edit => {
      return { do: 'set-figure', spot: s, figure: { value, basis } };
    }),
    fc.tuple(fc.array(figureSpot, { maxLength: 5 }), bases).map(([spots, basis]): Edit => {
      return { do: 'set-basis', spots, basis };
    }),
    fc
      .tuple(
        owner,
        fc.constantFrom('title', 'why', 'instruction', 'words.start', 'proposal'),
        words,
      )
      .map(([o, key, text]): Edit => ({ do: 'set-text', spot: { ...o, key }, text })),
    spot.map((s): Edit => ({ do: 'set-field', ...s })),
    fc
      .oneof(
        figureSpot,
        spot.map((s) => s.spot),
      )
      .map((s): Edit => ({ do: 'clear', spot: s })),
    fc
      .tuple(stepId, at)
      .map(([step, n]): Edit => ({ do: 'duplicate-step', step, newId: `copy-${n}` })),
    entry.map((e): Edit => ({ do: 'remove', ...e })),
    entry.map((e): Edit => ({ do: 'remove', ...e, reason: 'not here' })),
    at.map((n): Edit => {
      const item = { id: `new-${n}`, words: 'Resin sensitises.' };
      return { do: 'add', part: 'cautions', item, before: null };
    }),
    at.map((n): Edit => {
      const item = { id: `new-${n}`, citation: 'Rivers A, Tide Journal 2024' };
      return { do: 'add', part: 'sources', item, before: null };
    }),
    at.map((n): Edit => {
      const item = { id: `new-${n}`, title: 'Checks', words: 'Checked' };
      return { do: 'add', part: 'lists', item, before: null };
    }),
    fc.tuple(entry, stepId).map(([e, before]): Edit => ({ do: 'move', ...e, before })),
    fc.tuple(at, stepId).map(([n, before]): Edit => {
      const item: Step = {
        id: `new-${n}`,
        stage: 'etch',
        title: 'New',
        per: 'tooth',
        after: [{ step: before, link: 'same' }],
        by: 'either',
        action: { kind: 'confirm' },
        pace,
      };
      return { do: 'add', part: 'steps', item, before };
    }),
  );
}

import { describe, expect, it } from 'vitest';
import { parseCorrections } from '../../src/protocol/corrections.ts';
import { changeId, editsForChanges } from '../../src/protocol/diff.ts';
import { replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import { openCorrections, realChanges, withNeeded } from '../../src/protocol/open-corrections.ts';
import type { Basis, Protocol, Step } from '../../src/protocol/types.ts';
import { ROWS } from './corrections.ts';
import { smallProtocol } from './edit-support.ts';

const practice: Basis = { kind: 'practice' };
const published: Basis = { kind: 'published', source: 'clean-source' };
const leaflet: Basis = {
  kind: 'instructions',
  document: 'Etching gel, instructions for use',
  revision: '2026-04',
  confirmedBy: 'Lead',
  confirmedOn: '2026-11-25',
};

function edited(protocol: Protocol, ...edits: readonly Edit[]): Protocol {
  const next = replayEdits(protocol, edits);
  if (!next.ok) throw new Error(next.error[0]?.place);
  return next.value;
}

const set = (key: string, value: number, basis: Basis): Edit => ({
  do: 'set-figure',
  spot: { part: 'steps', id: 'etch', key },
  figure: { value, basis },
});

const clean: Step = {
  id: 'clean',
  stage: 'clean',
  title: 'Clean',
  per: 'tooth',
  after: [],
  by: 'dentist',
  uses: ['paste'],
  action: { kind: 'dwell', targetMs: { value: 5000, basis: published } },
  pace: { medianMs: { value: 5000, basis: practice }, p90Ms: { value: 8000, basis: practice } },
};

/** What the template became: a step more with all it names, a shorter limit, other words. */
const template = edited(
  smallProtocol(),
  { do: 'add', part: 'sources', item: { id: 'clean-source', citation: 'X' }, before: null },
  { do: 'add', part: 'stages', item: { id: 'clean', title: 'Clean' }, before: 'etch' },
  {
    do: 'add',
    part: 'slots',
    item: { id: 'paste', materialClass: 'paste', label: 'Paste', refrigerated: false },
    before: null,
  },
  { do: 'add', part: 'steps', item: { ...clean, id: 'look', title: 'Look' }, before: 'etch' },
  { do: 'add', part: 'steps', item: clean, before: 'look' },
  set('action.maxMs', 20_000, practice),
  {
    do: 'set-text',
    spot: { part: 'steps', id: 'rinse', key: 'title' },
    text: 'Rinse well',
  },
  { do: 'set-text', spot: { part: 'steps', id: 'seat', key: 'title' }, text: 'Seat unit' },
);

/** What the clinic confirmed of the template before: its own leaflet behind every number of the gel. */
const inForce = edited(
  smallProtocol(),
  set('action.minMs', 15_000, leaflet),
  set('action.targetMs', 20_000, leaflet),
  set('action.maxMs', 30_000, leaflet),
);

const compared = (here: Protocol) => openCorrections({ inForce: here, template, rows: ROWS });
const ids = (here: Protocol) => compared(here).corrections.map(({ id }) => id);

describe('a file of corrections', () => {
  it('is read, and whatever is wrong with it is one problem with its place', () => {
    expect(parseCorrections(ROWS)).toMatchObject({ ok: true, value: { length: 3 } });
    expect(parseCorrections([])).toEqual({ ok: true, value: [] });
    const [row] = ROWS;
    expect(parseCorrections([row, { ...row, hurts: 'yes' }])).toMatchObject({
      error: { place: 'corrections[1].hurts', expected: 'true or false', came: '"yes"' },
    });
    for (const place of ['etch', 'steps/etch', 'people/etch/title', 'steps/Etch/title']) {
      expect(parseCorrections([{ ...row, place }])).toMatchObject({
        error: { place: 'corrections[0].place' },
      });
    }
    const { reason: _, ...bare } = { reason: '', ...row };
    expect(parseCorrections([bare])).toMatchObject({ error: { place: 'corrections[0].reason' } });
    expect(parseCorrections({ rows: [] })).toMatchObject({ error: { place: 'corrections' } });
  });

  it('may name a place of the protocol itself', () => {
    const [row] = ROWS;
    expect(parseCorrections([{ ...row, place: 'protocol//choices' }]).ok).toBe(true);
  });
});

describe('what a template corrects in a confirmed revision', () => {
  it('is what differs and was told, what could hurt first, with its reason and its source', () => {
    const { corrections } = compared(inForce);
    expect(corrections.map(({ id, hurts }) => [id, hurts])).toEqual([
      ['steps/clean/added', true],
      ['steps/etch/action.maxMs', true],
      ['steps/rinse/title', false],
    ]);
    expect(corrections[1]?.rows[0]).toMatchObject({
      reason: 'Longer acid harms the tooth.',
      source: 'wang-lu-1991',
    });
  });

  it('marks what the clinic confirmed against the instructions of a product', () => {
    const marks = compared(inForce).corrections.map(({ id, isTyped }) => [id, isTyped]);
    expect(Object.fromEntries(marks)).toEqual({
      'steps/clean/added': false,
      'steps/etch/action.maxMs': true,
      'steps/rinse/title': false,
    });
  });

  it('lists the other changes after them, by entry, and not the standing of the same number', () => {
    const { others } = compared(inForce);
    expect(others.map(({ owner }) => owner)).toEqual([
      'steps/look',
      'steps/seat',
      'slots/paste',
      'sources/clean-source',
      'stages/clean',
    ]);
    expect(realChanges(inForce, template).map(changeId)).not.toContain('steps/etch/action.minMs');
    // The number is the same, but nothing stands behind it: then the standing is a difference.
    const bare = edited(inForce, set('action.minMs', 15_000, { kind: 'practice', note: 'x' }));
    expect(realChanges(bare, template).map(changeId)).toContain('steps/etch/action.minMs');
  });

  it('is answered by the same number with the clinic’s own leaflet behind it', () => {
    const shorter = edited(inForce, set('action.maxMs', 20_000, leaflet));
    expect(ids(shorter)).toEqual(['steps/clean/added', 'steps/rinse/title']);
    // Another number of the clinic’s own is still a difference.
    expect(ids(edited(inForce, set('action.maxMs', 25_000, leaflet)))).toContain(
      'steps/etch/action.maxMs',
    );
  });

  it('takes a row about a part of what changed, and none of another protocol or entry', () => {
    const row = { protocol: 'small', hurts: true, reason: 'Because.' };
    const about = (place: string, protocol = 'small') =>
      openCorrections({ inForce, template, rows: [{ ...row, place, protocol }] }).corrections.map(
        ({ id }) => id,
      );
    expect(about('steps/clean/action.targetMs')).toEqual(['steps/clean/added']);
    expect(about('steps/etch/action')).toEqual(['steps/etch/action.maxMs']);
    expect(about('steps/etch/action.max')).toEqual([]);
    expect(about('steps/etch/added')).toEqual([]);
    expect(about('steps/etch/action.maxMs', 'large')).toEqual([]);
  });
});

describe('taking over', () => {
  const all = realChanges(inForce, template);
  const chosen = all.filter((change) => changeId(change) === 'steps/clean/added');

  it('brings along what the chosen cannot stand without, and nothing else', () => {
    expect(withNeeded(chosen, all).map(changeId)).toEqual([
      'steps/clean/added',
      'slots/paste/added',
      'sources/clean-source/added',
      'stages/clean/added',
    ]);
    const limit = all.filter((change) => changeId(change) === 'steps/etch/action.maxMs');
    expect(withNeeded(limit, all)).toEqual(limit);
  });

  it('puts a new entry in front of the next one that is there', () => {
    const edits = editsForChanges(withNeeded(chosen, all), template, inForce);
    const taken = edited(inForce, ...edits);
    // "Look" stands between them in the template and was not chosen.
    expect(taken.steps.map(({ id }) => id).slice(0, 2)).toEqual(['clean', 'etch']);
    expect(taken.stages.map(({ id }) => id)).toEqual(['clean', 'etch', 'seat']);
    expect(ids(taken)).toEqual(['steps/etch/action.maxMs', 'steps/rinse/title']);
  });

  it('of everything leaves nothing to correct', () => {
    const taken = edited(inForce, ...editsForChanges(all, template, inForce));
    expect(realChanges(taken, template)).toEqual([]);
    // The numbers that the template has alike keep the clinic’s leaflet.
    expect(taken.steps.find(({ id }) => id === 'etch')?.action).toMatchObject({
      minMs: { basis: { kind: 'instructions' } },
    });
  });
});

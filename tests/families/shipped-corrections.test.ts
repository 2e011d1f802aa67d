/** What ships as corrections names places of the protocols that ship, and tells nobody anything else. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { type Correction, parseCorrections } from '../../src/protocol/corrections.ts';
import { type Change, changeId, editsForChanges } from '../../src/protocol/diff.ts';
import { replayEdits } from '../../src/protocol/edit.ts';
import { fieldAt, itemAt, PARTS } from '../../src/protocol/edit-types.ts';
import { openCorrections, realChanges, withNeeded } from '../../src/protocol/open-corrections.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { takenWhole } from '../../src/protocol/taken-whole.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { keptDocument, keptJson } from '../fixtures/kept-files.ts';
import { protocolNamed } from './family-chair.ts';

const shipped: unknown = JSON.parse(
  readFileSync(new URL('../../shared/protocols/corrections.json', import.meta.url), 'utf8'),
);

function parsed(value: unknown): Protocol {
  const protocol = parseProtocol(value);
  if (!protocol.ok) throw new Error(JSON.stringify(protocol.error));
  return protocol.value;
}

const confirmedThen = () =>
  parsed(keptDocument('protocol', 'thin-veneers-separate-bottle-etch-and-rinse@2'));

function shippedThen(): Protocol {
  const file = keptJson('protocols/as-shipped.json');
  return parsed(fieldAt(file, 'protocol'));
}

function valueAt(protocol: Protocol, row: Correction): unknown {
  const [part, id = '', key = ''] = row.place.split('/');
  if (part === 'protocol') return fieldAt(protocol, key);
  const of = PARTS.find((name) => name === part);
  return of === undefined ? undefined : fieldAt(itemAt(protocol, { part: of, id }), key);
}

function isThere(protocol: Protocol, row: Correction): boolean {
  const [part, id = ''] = row.place.split('/');
  const of = PARTS.find((name) => name === part);
  return of !== undefined && itemAt(protocol, { part: of, id }) !== undefined;
}

/** What is wrong with a row, beside the document that ships; null when it holds. */
function faultOf(row: Correction, protocol: Protocol): string | null {
  const key = row.place.split('/')[2];
  if (key === 'removed') return isThere(protocol, row) ? 'the entry is still there' : null;
  if (row.place.startsWith('protocol/')) return valueAt(protocol, row) ? null : 'no such field';
  if (!isThere(protocol, row)) return 'no such entry';
  if (key === 'added' || key === 'moved') return null;
  const value = valueAt(protocol, row);
  const figure = fieldAt(value, 'value') ?? value;
  if (typeof row.now === 'number' && figure !== row.now)
    return `the document says ${String(figure)}`;
  return null;
}

const line = (row: Correction, fault: string) => `${row.protocol} ${row.place}: ${fault}`;

describe('the shipped corrections', () => {
  const read = parseCorrections(shipped);

  it('can be read', () => {
    expect(read).toMatchObject({ ok: true });
    expect(read.ok && read.value.length).toBeGreaterThan(100);
  });

  // The first version's documents: one as it shipped, one with a clinic's instructions behind it.
  it.each([
    ['as it shipped', shippedThen(), () => true],
    ['as a clinic confirmed it', confirmedThen(), ({ hurts }: Correction) => hurts],
  ])('each tell of a difference to the first version %s', (_, inForce, isMeant) => {
    const rows = read.ok ? read.value : [];
    const template = protocolNamed(inForce.id);
    const { corrections } = openCorrections({ inForce, template, rows });
    const told = new Set(corrections.flatMap((c) => c.rows.map(({ place }) => place)));
    const own = rows.filter((row) => row.protocol === inForce.id && isMeant(row));
    expect(own.length).toBeGreaterThan(40);
    expect(own.filter(({ place }) => !told.has(place)).map(({ place }) => place)).toEqual([]);
    const hurting = corrections.filter(({ hurts }) => hurts).length;
    expect(corrections.slice(0, hurting).every(({ hurts }) => hurts)).toBe(true);
  });

  it('leave no fault behind, each taken over alone and all together', () => {
    const [here, rows] = [confirmedThen(), read.ok ? read.value : []];
    const template = protocolNamed(here.id);
    const { corrections } = openCorrections({ inForce: here, template, rows });
    const all = realChanges(here, template);
    const faults = (taken: readonly Change[]): readonly string[] => {
      const outcome = replayEdits(here, editsForChanges(taken, template, here));
      if (!outcome.ok) return [JSON.stringify(outcome.error)];
      const found = checkProtocol(outcome.value).filter(({ level }) => level === 'error');
      return found.map(({ place, code }) => `${place} ${code}`);
    };
    const chosen = corrections.map(({ change }) => change);
    const torn = chosen.filter((change) => faults(withNeeded([change], all)).length > 0);
    expect(torn.length).toBeGreaterThan(0);
    for (const some of [...torn.map((change) => [change]), chosen]) {
      const taken = takenWhole(some, { here, template, all });
      expect(faults(taken), some.map(changeId).join(' ')).toEqual([]);
      expect(taken.length).toBeLessThan(all.length);
      expect(taken.map(changeId)).toEqual(expect.arrayContaining(some.map(changeId)));
    }
  });

  it('name places of the protocols that ship, with the numbers that stand there', () => {
    const rows = read.ok ? read.value : [];
    const faults = rows.flatMap((row) => {
      const fault = faultOf(row, protocolNamed(row.protocol));
      return fault === null ? [] : [line(row, fault)];
    });
    expect(faults).toEqual([]);
  });

  it('would be refused with a place or a number that the documents do not have', () => {
    const protocol = protocolNamed('thin-veneers-separate-bottle-etch-and-rinse');
    const row = { protocol: protocol.id, hurts: true, reason: 'Because.' };
    const fault = (more: Pick<Correction, 'place' | 'now'>) =>
      faultOf({ ...row, ...more }, protocol);
    expect(fault({ place: 'steps/nowhere/added' })).toBe('no such entry');
    expect(fault({ place: 'steps/etch/removed' })).toBe('the entry is still there');
    expect(fault({ place: 'steps/etch/action.targetMs', now: 1 })).toMatch(/the document says/);
    expect(fault({ place: 'protocol//nothing' })).toBe('no such field');
    expect(fault({ place: 'steps/etch/added' })).toBeNull();
  });
});

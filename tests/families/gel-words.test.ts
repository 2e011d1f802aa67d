/** Three things are gels; in shipped texts only acid is called so. Glycerine and excess have their own names. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Protocol } from '../../src/protocol/types.ts';
import { protocolNamed } from './family-chair.ts';

const shipped = readdirSync(new URL('../../shared/protocols', import.meta.url))
  .filter((name) => name.endsWith('.json') && name !== 'corrections.json')
  .map((name) => protocolNamed(name.replace('.json', '')));

/** Members that nobody reads: ids, and classes that stored materials are matched by. */
const UNREAD = [
  'id',
  'step',
  'uses',
  'materialClass',
  'mishap',
  'slot',
  'stage',
  'citation',
  'wayBack',
  'by',
  'confirmedBy',
];

function textsOf(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    UNREAD.includes(key) ? [] : textsOf(inner),
  );
}

/** The medicine has its own name and keeps it. */
const withoutMedicine = (text: string): string =>
  text.replace(/calcium (?:gluconate )?gel/gi, '').replace(/With the gel at hand/, '');
const isGel = (value: unknown): boolean =>
  textsOf(value).some((text) => /\bgel(?:s|led|ling)?\b/i.test(withoutMedicine(text)));

/** Acid is in the hands: its slot is used, its caution stands there, or the tray holds its syringe. */
function isAcid(
  protocol: Protocol,
  entry: { readonly cautions?: readonly string[]; readonly uses?: readonly string[] },
): boolean {
  const acids = protocol.slots.filter(({ materialClass }) => /\bacid\b/.test(materialClass));
  const said = entry.cautions ?? [];
  return (
    said.includes('phosphoric-acid') ||
    said.includes('hydrofluoric-acid') ||
    acids.some(({ id }) => entry.uses?.includes(id) === true)
  );
}

describe.each(shipped.map((protocol) => [protocol.id, protocol] as const))('%s', (_, protocol) => {
  it('calls only acid a gel', () => {
    const entries = [...protocol.steps, ...protocol.waysBack];
    const wrong = entries.filter((entry) => isGel(entry) && !isAcid(protocol, entry));
    expect(wrong.map(({ id }) => id)).toEqual([]);
    const others = [...protocol.windows, ...(protocol.choices ?? []), ...protocol.stages];
    expect(others.filter(isGel).map(({ id }) => id)).toEqual([]);
    const slots = protocol.slots.filter(({ materialClass }) => !/\bacid\b/.test(materialClass));
    expect(slots.filter(isGel).map(({ id }) => id)).toEqual([]);
  });
});

it('the acid itself is still a gel, so that the rule is not met by silence', () => {
  const etch = protocolNamed('thin-veneers-universal-selective-etch').steps.find(
    ({ id }) => id === 'etch',
  );
  expect(isGel(etch)).toBe(true);
});

/**
 * Every shipped step and way back says what can hurt in it. The table goes from what is in the
 * hands (classes of material, kinds of step, words of the trade) to the caution that is demanded.
 */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { SHORT_CAUTION_MAX } from '../../src/protocol/check-references.ts';
import type { Protocol, Step, WayBack } from '../../src/protocol/types.ts';
import { protocolNamed } from './family-chair.ts';

const shipped = readdirSync(new URL('../../shared/protocols', import.meta.url))
  .filter((name) => name.endsWith('.json') && name !== 'corrections.json')
  .map((name) => protocolNamed(name.replace('.json', '')));

interface Hazard {
  readonly what: string;
  /** A citation, or that none is known. */
  readonly from: string;
  readonly caution: string;
  readonly isIn: (step: Step, classes: readonly string[]) => boolean;
}

const PRACTICE = 'common practice, no source';
const idIs =
  (...ids: readonly string[]) =>
  ({ id }: Step): boolean =>
    ids.includes(id);
const classIs =
  (pattern: RegExp, not?: RegExp) =>
  (_: Step, classes: readonly string[]): boolean =>
    classes.some((name) => pattern.test(name) && not?.test(name) !== true);
/** What the hands do, as the step itself says it. */
const says =
  (pattern: RegExp) =>
  ({ title, instruction = '', words }: Step): boolean =>
    pattern.test([title, instruction, words?.start, words?.end].join(' '));

const HAZARDS: readonly Hazard[] = [
  {
    what: 'hydrofluoric acid is put on',
    from: 'university procedures for hydrofluoric acid: calcium gluconate, pain felt late',
    caution: 'hydrofluoric-acid',
    isIn: classIs(/hydrofluoric/),
  },
  {
    what: 'hydrofluoric acid is rinsed off',
    from: 'university procedures for hydrofluoric acid',
    caution: 'hydrofluoric-acid',
    isIn: says(/acid tray/),
  },
  {
    what: 'phosphoric acid is put on',
    from: 'safety sheets of phosphoric acid: H314, burns skin and eyes',
    caution: 'phosphoric-acid',
    isIn: classIs(/phosphoric/),
  },
  {
    what: 'acid gel is rinsed off',
    from: 'safety sheets of phosphoric acid: H314',
    caution: 'phosphoric-acid',
    isIn: (step) => says(/until (?:all|no) gel/)(step) && !says(/acid tray/)(step),
  },
  {
    what: 'a light is on, or is read',
    from: 'J Occup Environ Hyg 2016;13:639: reflected light reaches the daily limit in about 11 min',
    caution: 'eye-protection',
    isIn: (step) =>
      step.action.kind === 'expose' || step.usesLight === true || step.id === 'light-read',
  },
  {
    what: 'a tooth is exposed',
    from: PRACTICE,
    caution: 'pulp-heat',
    isIn: (step) =>
      step.action.kind === 'expose' || (step.usesLight === true && !says(/[Ll]ight read/)(step)),
  },
  {
    what: 'primer, adhesive, bonding resin or cement is out: monomers',
    from: PRACTICE,
    caution: 'resin-allergy',
    isIn: classIs(/primer|adhesive|bonding resin|cement|activator|gingival barrier/),
  },
  {
    what: 'soft resin is blown, loaded, seated, brushed or lifted',
    from: PRACTICE,
    caution: 'resin-allergy',
    isIn: idIs(
      ...['primer-air', 'bond-air', 'adhesive-air', 'adhesive-stand', 'load', 'seat'],
      ...['excess', 'excess-mix', 'tack', 'gel-lifted', 'contacts-flossed'],
    ),
  },
  {
    what: 'a solvent evaporates',
    from: 'J Int Oral Health 2012;4(3):35: solvent evaporates while air is blown',
    caution: 'solvent-vapour',
    isIn: classIs(/primer|adhesive|bonding resin/, /resin cement/),
  },
  {
    what: 'the solvent is blown off',
    from: 'J Int Oral Health 2012;4(3):35',
    caution: 'solvent-vapour',
    isIn: idIs('primer-air', 'bond-air', 'adhesive-air'),
  },
  {
    what: 'a loose unit is in the mouth or goes there',
    from: 'Head Face Med 2016;12:23: 617 swallowed or inhaled pieces',
    caution: 'aspiration',
    isIn: idIs(
      ...['provisionals-off', 'try-in', 'fit-checked', 'seating-verified', 'shade'],
      ...['units-rinsed', 'load', 'seat', 'excess', 'excess-mix', 'tack', 'gel-lifted'],
    ),
  },
  {
    what: 'pieces or cord go in or come out',
    from: PRACTICE,
    caution: 'counted-pieces',
    isIn: says(/\b[Cc]ord in\b|\b[Cc]ord out\b|[Pp]ieces in|[Dd]am out/),
  },
  {
    what: 'powder is blown or used in the mouth',
    from: PRACTICE,
    caution: 'powder-in-mouth',
    isIn: (step) => step.per === 'tooth' && says(/[Aa]lumina|[Pp]umice|powder/)(step),
  },
  {
    what: 'units are air-abraded',
    from: PRACTICE,
    caution: 'abrasive-dust',
    isIn: classIs(/air abrasion/),
  },
  {
    what: 'zirconia is cleaned with an alkaline cleaner',
    from: PRACTICE,
    caution: 'alkaline-cleaner',
    isIn: classIs(/alkaline/),
  },
  {
    what: 'a blade, a scaler, a strip or a saw is in the mouth',
    from: PRACTICE,
    caution: 'sharp-edges',
    isIn: (step) =>
      step.action.kind === 'tally' || says(/\b[Bb]lade\b|\bscaler\b|[Tt]hin blade or saw/)(step),
  },
  {
    what: 'a bur or a polisher turns',
    from: PRACTICE,
    caution: 'rotary-heat',
    isIn: says(/\b[Bb]ur\b|diamond|[Rr]ubber, then paste|[Tt]ake off only the marks|then polish/),
  },
  {
    what: 'grinding and polishing spray',
    from: PRACTICE,
    caution: 'aerosol',
    isIn: says(/diamond|[Rr]ubber, then paste/),
  },
];

/** Taken out or read with lids on: nothing of it can be touched yet. */
const isClosed = (protocol: Protocol, { id, action }: Step): boolean =>
  id === 'materials-out' ||
  (action.kind === 'confirm' && action.evidence?.kind === 'material') ||
  (protocol.id === 'preparation' && id !== 'liquids-shaken');

function hazardsOf(protocol: Protocol, step: Step): readonly Hazard[] {
  const used = (step.uses ?? []).flatMap((id) => protocol.slots.filter((slot) => slot.id === id));
  const classes = isClosed(protocol, step) ? [] : used.map(({ materialClass }) => materialClass);
  return HAZARDS.filter(({ isIn }) => isIn(step, classes));
}

/** What a way back lets people do, by its own words; acid that is forbidden is not in the hands. */
const WAY_HAZARDS: readonly (readonly [RegExp, string])[] = [
  [/\b(?:[Pp]hosphoric acid|etch (?:the |this )|[Gg]el on\b)/, 'phosphoric-acid'],
  [/\bacid on this unit\b/, 'hydrofluoric-acid'],
  [/\b[Pp]rime (?:it|them|again|the unit)|\bprime again\b|[Ss]ilane and adhesive/, 'resin-allergy'],
  [/\bsolvent\b/, 'solvent-vapour'],
  [/\b[Tt]ack (?:it first|what|and expose)|[Ee]xpose every surface/, 'eye-protection'],
  [/[Tt]ake (?:it|the unit) off|[Tt]ake off what still moves/, 'aspiration'],
  [/\b[Aa]brade (?:it|this unit|the inside)\b/, 'abrasive-dust'],
];

const proposalOf = (way: WayBack): string =>
  way.proposal.replace(/No (?:hydrofluoric|phosphoric) acid[^.;]*/gi, '');

describe.each(shipped.map((protocol) => [protocol.id, protocol] as const))('%s', (_, protocol) => {
  it('says at each step what can hurt in it', () => {
    const missing = protocol.steps.flatMap((step) =>
      hazardsOf(protocol, step)
        .filter(({ caution }) => step.cautions?.includes(caution) !== true)
        .map(({ what, caution }) => `${step.id}: ${caution} (${what})`),
    );
    expect(missing).toEqual([]);
  });

  it('says at each way back what can hurt while it is carried out', () => {
    const missing = protocol.waysBack.flatMap((way) =>
      WAY_HAZARDS.filter(
        ([pattern, caution]) =>
          pattern.test(proposalOf(way)) && way.cautions?.includes(caution) !== true,
      ).map(([, caution]) => `${way.id}: ${caution}`),
    );
    expect(missing).toEqual([]);
  });

  it('has a short form of each caution, which names no product and promises nothing', () => {
    for (const { id, words, short } of protocol.cautions) {
      expect([...(short ?? '')].length, id).toBeGreaterThan(10);
      expect([...(short ?? '')].length, id).toBeLessThanOrEqual(SHORT_CAUTION_MAX);
      expect(`${words} ${short}`).not.toMatch(/\b(?:cured|safe|safely|adequate)\b|[®™]/i);
    }
    const said = new Set(
      [...protocol.steps, ...protocol.waysBack].flatMap(({ cautions = [] }) => cautions),
    );
    expect(protocol.cautions.filter(({ id }) => !said.has(id))).toEqual([]);
  });

  it('is told when a short form is missing or too long, and opens all the same', () => {
    const [first, ...rest] = protocol.cautions;
    if (first === undefined) throw new Error('No caution.');
    const { short: _short, ...bare } = first;
    for (const [caution, length] of [
      [bare, 0],
      [{ ...first, short: 'x'.repeat(SHORT_CAUTION_MAX + 1) }, SHORT_CAUTION_MAX + 1],
    ] as const) {
      const found = checkProtocol({ ...protocol, cautions: [caution, ...rest] });
      expect(found).toContainEqual({
        code: 'caution-not-short',
        place: 'protocol.cautions[0].short',
        level: 'caution',
        values: { id: first.id, length, max: SHORT_CAUTION_MAX },
      });
    }
  });
});

it('a protocol from before there were short forms is asked for none', () => {
  const protocol = protocolNamed('finishing-visit');
  const cautions = protocol.cautions.map(({ id, words }) => ({ id, words }));
  expect(checkProtocol({ ...protocol, cautions })).toEqual([]);
});

describe('the finishing visit', () => {
  const finishing = protocolNamed('finishing-visit');

  it('warns of no light, because none is used there', () => {
    expect(finishing.steps.some(({ action }) => action.kind === 'expose')).toBe(false);
    expect(finishing.cautions.map(({ words }) => words).join(' ')).not.toMatch(/\blight harms/);
    expect(finishing.steps.flatMap(({ cautions = [] }) => cautions)).not.toContain(
      'eye-protection',
    );
  });

  it('warns of heat and of what flies off at its grinding', () => {
    const grinding = finishing.steps.find(({ id }) => id === 'margins');
    expect(grinding?.cautions).toEqual(
      expect.arrayContaining(['rotary-heat', 'aerosol', 'flying-debris']),
    );
  });
});

it('each hazard of the table is met by some shipped step', () => {
  const met = new Set(
    shipped.flatMap((protocol) => protocol.steps.flatMap((step) => hazardsOf(protocol, step))),
  );
  expect(HAZARDS.filter((hazard) => !met.has(hazard)).map(({ what }) => what)).toEqual([]);
});

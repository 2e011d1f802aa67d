/**
 * What could hurt, asked of the dual-cured families as a careful clinician would: each test is about one
 * thing that is done to a tooth or unit, or must not be. Sources stand beside what they show; all else
 * is common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { buildLayout } from '../../src/engine/layout.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import type { Substrate } from '../../src/protocol/facts.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import {
  type Asked,
  DUAL,
  ETCHED_BEFORE,
  layoutFor,
  protocolOf,
  shows,
  specOf,
  stepAsked,
  took,
  windowOf,
} from './dual-cases.ts';
import { caseNamed, FAMILIES, FamilyChair, protocolNamed } from './family-chair.ts';

/** Texts of a document in which something is promised or said to people. */
const textOf = (protocol: Protocol): string => JSON.stringify(protocol);

describe.each(DUAL)('what could hurt, on %s', (family) => {
  const protocol = protocolOf(family);

  it('an adhesive on dentine is never left unexposed by default', () => {
    const route = protocol.choices?.find(({ id }) => id === 'adhesive-route');
    expect(route?.options.map(({ id }) => id)).toEqual(['lit', 'dual-paired', 'cement-primer']);
    expect(route?.default).toBe('lit');
    const onTeeth = protocol.steps.filter(({ per }) => per === 'tooth');
    expect(onTeeth.filter((s) => /not exposed/i.test(s.instruction ?? ''))).toEqual([]);
    const layout = layoutFor(family, shows('dentine-shows'));
    const waits = layout.byKey.get('seat@unit:36')?.needs.map(({ key }) => key);
    expect(waits).toContain('bond-light@tooth:36');
    const other = layoutFor(family, took('adhesive-route', 'cement-primer'));
    expect([other.byKey.has('bond@tooth:36'), other.byKey.has('cement-primer@tooth:36')]).toEqual([
      false,
      true,
    ]);
  });

  it('air on a tooth: the press is right for enamel or for dentine, never for both at once', () => {
    const texts = (...substrate: Substrate[]) =>
      ['etch-dry', 'etch-moist'].map(
        (id) => stepAsked(family, id, { substrate })?.instruction ?? null,
      );
    const [dry, moist] = texts('enamel', 'dentine-shows');
    expect(dry).toMatch(/frosted/);
    expect(moist).toMatch(/glisten.*damp brush/);
    expect(texts('enamel')[1]).toBeNull();
    expect(texts('no-enamel-margin')[0]).toBeNull();
  });

  it('each retainer is tacked and exposed by itself, both before any excess is lifted', () => {
    const unit = { teeth: ['13', '11'], pontics: ['12'], restoration: 'bridge' };
    const layout = layoutFor(family, { unit });
    for (const step of ['tack', 'expose'])
      expect(layout.byStep.get(step)?.map(({ subject }) => subject)).toEqual([
        'tooth:13',
        'tooth:11',
      ]);
    const lifted = layout.byKey.get('gel-lifted@unit:36')?.needs.map(({ key }) => key);
    expect(lifted).toEqual(['tack@tooth:13', 'tack@tooth:11']);
  });

  it('the first unit is lifted and flossed before the next goes in; portion by portion is a choice', () => {
    const spec = caseNamed(FAMILIES[family]);
    const needsOf = (choices: CaseFile['choices']) => {
      const own: CaseFile = { ...spec, choices: choices ?? {} };
      const layout = buildLayout({ spec: own, protocol }, makeRunPlan(own, protocol));
      const [first, second] = layout.subjects.order.unit;
      const needs = layout.byKey.get(`seat@${second}`)?.needs.map(({ key }) => key) ?? [];
      const between = layout.subjects
        .linked(first ?? '', 'contact')
        .filter((c) => layout.subjects.linked(c, 'unit').length === 1);
      return { needs, flossed: between.map((c) => `contacts-flossed@${c}`) };
    };
    const careful = needsOf({});
    expect(careful.flossed.length).toBeGreaterThan(0);
    expect(careful.needs).toEqual(expect.arrayContaining(careful.flossed));
    const together = needsOf({ 'excess-order': 'mix-by-mix' });
    expect(together.needs.filter((key) => key.startsWith('contacts'))).toEqual([]);
    const each = protocol.steps.find(({ id }) => id === 'contacts-flossed');
    expect([each?.per, each?.together ?? false]).toEqual(['contact', false]);
  });

  it('provisionals come off and are cleaned by what held them; unknown counts as eugenol', () => {
    // Appl Sci 2020;10:1070: eugenol takes 3.3 to 8.3 MPa; by class common practice.
    const cleaned = (provisional: NonNullable<Asked['provisional']>) => {
      const ids = ['provisionals-off', 'clean-eugenol', 'clean-eugenol-free', 'clean-resin'];
      const layout = layoutFor(family, { provisional });
      return ids.filter((id) => layout.byKey.has(`${id}@tooth:36`));
    };
    expect(cleaned('none')).toEqual([]);
    expect(cleaned('eugenol')).toEqual(['provisionals-off', 'clean-eugenol']);
    expect(cleaned('unknown')).toEqual(['provisionals-off', 'clean-eugenol']);
    expect(cleaned('eugenol-free')).toEqual(['provisionals-off', 'clean-eugenol-free']);
    expect(cleaned('resin')).toEqual(['provisionals-off', 'clean-resin']);
    const ids = protocol.steps.map(({ id }) => id);
    expect(ids.indexOf('remnants-checked')).toBeLessThan(ids.indexOf('teeth-cleaned'));
  });

  it('a visit that stops covers the teeth again', () => {
    const stops = protocol.waysBack.filter(({ mishap }) => mishap === 'stopped');
    expect(stops.map(({ proposal }) => /cover/i.test(proposal))).toEqual(stops.map(() => true));
    const chair = FamilyChair.of(family);
    while (chair.view.offers[0]?.step !== 'lamp-away') chair.next();
    const { subjects } = layoutFor(family);
    expect(subjects.order.tooth).toEqual(['tooth:36']);
    const teeth = chair.log.state.opened.spec.units.flatMap((unit) => unit.teeth);
    const taken = {
      do: 'take-way-back',
      wayBack: 'stopped-before-bond',
      mishap: 'stopped',
      subjects: teeth.map((tooth) => `tooth:${tooth}`),
      reason: 'the patient is unwell',
    } as const;
    expect(chair.do(taken)).toBeNull();
    expect(chair.view.offers.map(({ step }) => step)).toContain('teeth-covered');
  });

  it('astringent on a tooth has a way back that ends in acid, 15 s at most on dentine', () => {
    // J Am Dent Assoc 2014;145:1120: lower in 10 of 12 studies; Oper Dent 2007;32:399.
    const way = protocol.waysBack.find(({ id }) => id === 'haemostatic-on-tooth');
    expect(way?.proposal).toMatch(/10 to 30 s.*15 s at most.*etch-and-rinse, not self-etch/);
    expect(way?.voids.map(({ step }) => step)).toEqual(
      expect.arrayContaining(['etch', 'etch-dentine', 'bond', 'bond-light']),
    );
  });

  it('units are cleaned after the try-in by a clock', () => {
    const spec = specOf(family);
    const timed = protocol.steps.filter((s) => s.rangeClass === 'clean-after-try-in');
    expect(timed.map(({ action }) => action.kind)).toEqual(timed.map(() => 'dwell'));
    const layout = buildLayout({ spec, protocol }, makeRunPlan(spec, protocol));
    expect(timed.some(({ id }) => layout.byKey.has(`${id}@unit:36`))).toBe(true);
  });

  it('seating is verified in the mouth and the bite is held for ten minutes the same day', () => {
    const verified = stepAsked(family, 'seating-verified', {});
    expect(verified?.instruction).toMatch(/probe.*film/i);
    expect(verified?.instruction).toMatch(/neighbours/);
    const bite = protocol.steps.find(({ id }) => id === 'bite');
    expect([bite?.stage, windowOf(family, 'setting').to.step]).toEqual(['same-day', 'bite']);
    const told = protocol.steps.find(({ id }) => id === 'instructions')?.instruction;
    expect(told).toMatch(/nothing hard .* 24 h/i);
  });

  it('cord and dam pieces are counted in and out', () => {
    const counted = protocol.steps.filter(
      ({ action }) =>
        action.kind === 'confirm' &&
        action.evidence?.kind === 'reading' &&
        action.evidence.unit === 'pieces',
    );
    expect(counted.map(({ id }) => id)).toEqual([
      'cord-in',
      'dam-pieces-in',
      'cord-out',
      'field-opened',
    ]);
  });

  it('says what may hurt once anaesthesia has worn off, and between which steps the field is closed', () => {
    // Rinsing, air, cord and light are felt (common practice, no source); so is what cleans a tooth.
    const felt = protocol.steps.filter(({ mayHurt }) => mayHurt).map(({ id }) => id);
    expect(felt).toEqual(
      expect.arrayContaining(['provisionals-off', 'cord-in', 'etch-rinse', 'bond-air', 'expose']),
    );
    const field = protocol.steps.flatMap((s) => (s.field ? [[s.id, s.field]] : []));
    expect(field).toEqual([
      ['field-isolated', 'closes'],
      ['field-opened', 'opens'],
    ]);
  });

  it('promises nothing', () => {
    const promised =
      /flash is off|sets by itself|does little|speaks against|nothing needs|0 % of the draws|far from finished/i;
    expect(promised.exec(textOf(protocol))?.[0]).toBeUndefined();
  });
});

describe('zirconia', () => {
  it('is adjusted before it is abraded and primed', () => {
    // J Adv Prosthodont 2018;10:132: grinding and polishing did not change the phases.
    const order = protocolOf('zirconia').steps.map(({ id }) => id);
    const at = ['bite-adjusted', 'abrade', 'primer'].map((id) => order.indexOf(id));
    expect(at).toEqual(at.toSorted((a, b) => a - b));
    expect(at[0]).toBeGreaterThan(0);
    const layout = layoutFor('zirconia');
    const waits = (id: string) => layout.byKey.get(id)?.needs.map(({ key }) => key);
    expect(waits('units-rinsed@unit:36')).toEqual(['bite-adjusted@unit:36']);
  });

  it('has floss under the pontic after the gel, before the light and at the finishing visit', () => {
    const unit = { teeth: ['13'], pontics: ['12'], restoration: 'bridge' };
    const layout = layoutFor('zirconia', { unit });
    expect(layout.byKey.has('pontic-flossed@unit:36')).toBe(true);
    const waits = layout.byKey.get('glycerine@unit:36')?.needs.map(({ key }) => key);
    expect(waits).toContain('pontic-flossed@unit:36');
    expect(layoutFor('zirconia').byKey.has('pontic-flossed@unit:36')).toBe(false);
    const finishing = protocolNamed('finishing-visit').steps.find((s) => s.id === 'pontic-flossed');
    expect(finishing?.where).toEqual([{ fact: 'pontics', is: ['yes'] }]);
  });
});

describe('glass-ceramic', () => {
  it('is not bitten on while it is loose', () => {
    const loose = ['try-in', 'seating-verified'].map((id) => stepAsked('glass-ceramic', id, {}));
    expect(loose.map((step) => step?.cautions?.includes('no-bite'))).toEqual([true, true]);
  });

  it('has its acid only once the gel for skin and the eyewash are at hand', () => {
    const waits = layoutFor('glass-ceramic').byKey.get('acid@unit:36')?.needs;
    expect(waits?.map(({ key }) => key)).toEqual(
      expect.arrayContaining(['calcium-gel@case', 'eyewash@case']),
    );
    expect(layoutFor('glass-ceramic', ETCHED_BEFORE).byKey.has('calcium-gel@case')).toBe(false);
  });

  it('that came etched is not offered the acid by any way back', () => {
    const { waysBack } = protocolOf('glass-ceramic');
    const etching = waysBack.filter(({ voids }) => voids.some(({ step }) => step === 'acid'));
    expect(etching.map(({ id, where }) => [id, where])).toEqual([
      ['acid-short', [{ fact: 'conditioned', is: ['no', 'abraded'] }]],
    ]);
  });
});

/** Nothing is skipped silently, and nobody who insists is stopped: the reason stands in the record. */
import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { FAMILIES, type Family, FamilyChair, SEATING } from './family-chair.ts';

const MINUTE_MS = 60_000;

/** Presses what is offered until `step` has been pressed for all it is done to. */
function playedTo(chair: FamilyChair, step: string): FamilyChair {
  const open = () =>
    layoutOf(chair.log.state)
      .instances.filter((i) => i.step.id === step)
      .some((i) => chair.log.state.runs[i.key]?.status !== 'done');
  while (open()) if (chair.next() === null) throw new Error(`never reached ${step}`);
  return chair;
}

function skipAll(chair: FamilyChair, step: string, reason: string) {
  const layout = layoutOf(chair.log.state);
  const subjects = layout.instances.filter((i) => i.step.id === step).map((i) => i.subject);
  return chair.do({ do: 'skip', step, subjects, reason });
}

const openRefusal = (chair: FamilyChair, step: string) => {
  const offer = chair.view.offers.find((o) => o.step === step);
  if (!offer) throw new Error(`${step} is not offered`);
  return { offer, refused: chair.do({ do: 'press', offer }) };
};

describe.each(Object.keys(FAMILIES) as Family[])('%s', (family) => {
  it('lets every single step be skipped with a reason, none without one', () => {
    const chair = FamilyChair.of(family);
    const { steps } = chair.log.state.opened.protocol;
    const { byStep } = layoutOf(chair.log.state);
    const left = steps.filter((s) => s.earlier === undefined && byStep.has(s.id) && !s.onlyIf);
    for (const { id } of left) {
      expect(skipAll(chair, id, '  ')?.code, id).toBe('reason-missing');
      expect(skipAll(chair, id, `no ${id} today`), id).toBeNull();
    }
    const { runs } = chair.log.state;
    const skipped = Object.entries(runs).filter(([, run]) => run.status === 'skipped');
    const silent = skipped.filter(([key, run]) => run.reason !== `no ${key.split('@')[0]} today`);
    expect(silent).toEqual([]);
    const earlier = steps.filter((s) => s.earlier !== undefined);
    expect(skipped.length).toBe(chair.view.total - earlier.length);
    expect(chair.close()).toBeNull();
  });
});

describe.each(SEATING)('the light on %s', (family) => {
  it('cannot be counted as given by switching it off early; leaving it so takes a reason', () => {
    const chair = playedTo(FamilyChair.of(family, 2), 'glycerine');
    const on = chair.next();
    expect([on?.kind, on?.step]).toEqual(['light-on', 'expose']);
    chair.atMs += 2000;
    const off = chair.view.offers.find((o) => o.kind === 'light-off');
    if (!off) throw new Error('the light cannot be switched off');
    expect(chair.do({ do: 'press', offer: off })).toBeNull();
    expect(chair.close()?.code).toBe('work-left');
    expect(chair.log.state.runs[`expose@${on?.subjects[0]}`]?.status).toBe('running');
    expect(skipAll(chair, 'expose', '')?.code).toBe('reason-missing');
    expect(skipAll(chair, 'expose', 'light broke, second one away')).toBeNull();
    const short = chair.log.state.breaches.filter((b) => b.kind === 'exposure-short');
    const { subjects, byStep } = layoutOf(chair.log.state);
    const per = byStep.get('expose')?.[0]?.step.per ?? 'unit';
    expect(short.map((b) => b.subject)).toEqual(subjects.order[per]);
    chair.toTheEnd();
    expect(chair.view.finished).toBe(true);
  });

  it('shows in the record that the shield ran out, and does not stop anyone', () => {
    const chair = playedTo(FamilyChair.of(family, 2), 'primer-air');
    chair.atMs += 61 * MINUTE_MS;
    chair.toTheEnd();
    const late = chair.log.state.breaches.filter((b) => b.of === 'shield').map((b) => b.kind);
    expect(late).toEqual(['late', 'late']);
    expect(chair.close()).toBeNull();
  });

  it('has no tick for turning the lamp away without either doing it or saying why not', () => {
    const chair = playedTo(FamilyChair.of(family, 2), 'field-isolated');
    expect(skipAll(chair, 'lamp-away', '')?.code).toBe('reason-missing');
    expect(skipAll(chair, 'lamp-away', 'no lamp in this room')).toBeNull();
    expect(chair.log.state.runs['lamp-away@case']?.reason).toBe('no lamp in this room');
  });
});

describe('a changed plan', () => {
  it.each([' ', ''])('is refused with "%s" for a reason, as is another mix', (reason) => {
    const chair = playedTo(FamilyChair.of('veneers, etch-and-rinse', 2), 'lamp-away');
    const { plan } = chair.log.state;
    const codes = [
      chair.do({ do: 'change-plan', plan, reason }),
      chair.do({ do: 'add-mix', units: ['21'], reason }),
    ].map((refused) => refused?.code);
    expect(codes).toEqual(['reason-missing', 'reason-missing']);
  });

  it('adds no mix where nothing is mixed, so that no unit is left out', () => {
    const chair = FamilyChair.of('finishing');
    const added = { do: 'add-mix', units: ['11'], reason: 'by mistake' } as const;
    expect(chair.do(added)?.code).toBe('plan-does-not-fit');
  });
});

describe.each(['glass-ceramic', 'zirconia', 'composite'] as const)('the bite on %s', (family) => {
  it('is held until the cement has had its time, and opened sooner only with a reason', () => {
    const chair = playedTo(FamilyChair.of(family, 2), 'gel-lifted');
    const last =
      chair.log.state.runs[`seat@${layoutOf(chair.log.state).subjects.order.unit.at(-1)}`];
    const rest = ['contacts-flossed', 'glycerine', 'expose', 'gel-rinsed', 'field-opened'];
    for (const step of [...rest, 'flash-off', 'contacts-left']) skipAll(chair, step, 'in a hurry');
    const sinceMs = chair.atMs - (last?.endedAt?.loMs ?? 0);
    const { offer, refused } = openRefusal(chair, 'bite');
    expect(offer.dueInMs).toBe(600_000 - sinceMs);
    expect(refused?.code).toBe('reason-missing');
    expect(refused?.values).toMatchObject({ window: 'setting' });
    expect(chair.do({ do: 'press', offer, reason: 'patient had to leave' })).toBeNull();
    expect(chair.log.state.notes.map((n) => n.words)).toEqual([
      'No bite yet: patient had to leave',
    ]);
    expect(chair.log.state.breaches.filter((b) => b.of === 'setting').map((b) => b.kind)).toContain(
      'early',
    );
  });
});

/** Choices that people make while seating and finishing: order, loops, strips. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { bareId } from '../../src/protocol/subjects.ts';
import { type Family, FamilyChair, SEATING } from './family-chair.ts';

function playedTo(family: Family, step: string): FamilyChair {
  const chair = FamilyChair.of(family, 2);
  while (chair.view.offers[0]?.step !== step) {
    if (chair.next() === null) throw new Error(`never offered ${step}`);
  }
  return chair;
}

/** What was done to a unit, or to its tooth where the step goes tooth by tooth. */
function runOf(chair: FamilyChair, id: string, unit: string) {
  const { runs, opened } = chair.log.state;
  const per = opened.protocol.steps.find((s) => s.id === id)?.per;
  return runs[`${id}@${per}:${unit}`];
}

describe.each(SEATING)('the order of seating on %s', (family) => {
  it('can be swapped by one command before the first unit is loaded', () => {
    const chair = playedTo(family, 'lamp-away');
    const { plan } = chair.log.state;
    const order = plan.order.toReversed();
    const mixes = plan.mixes.length === 1 ? [order] : plan.mixes;
    const changed = { ...plan, order, mixes };
    expect(chair.do({ do: 'change-plan', plan: changed, reason: 'the back one first' })).toBeNull();
    chair.toTheEnd();
    expect(chair.view.finished).toBe(true);
    const seated = chair.log.records.flatMap(({ event }) =>
      event.type === 'step-confirmed' && event.step === 'seat' ? event.subjects : [],
    );
    expect(seated).toEqual(order.map((unit) => `unit:${unit}`));
    expect(chair.log.state.breaches).toEqual([]);
  });
});

describe('a finishing visit', () => {
  it('enforces falling grit on each contact and warns beyond three passes', () => {
    // Common practice, no source: 2 to 3 passes a contact and strip, coarse to fine.
    const chair = playedTo('finishing', 'strip-coarse');
    const subjects = ['contact:11-21'];
    const early = chair.do({ do: 'press', offer: { kind: 'pass', step: 'strip-fine', subjects } });
    expect([early?.code, early?.missing]).toEqual(['not-yet', ['strip-medium@contact:11-21']]);
    for (let pass = 0; pass < 4; pass++) {
      const offer = { kind: 'pass', step: 'strip-coarse', subjects } as const;
      expect(chair.do({ do: 'press', offer })).toBeNull();
    }
    expect(chair.log.state.breaches.map((b) => [b.kind, b.of, b.subject, b.by])).toEqual([
      ['passes-over', 'strip-coarse', 'contact:11-21', 1],
    ]);
  });

  it('takes all passes of a strip with one press, and none where none is needed', () => {
    const chair = playedTo('finishing', 'strip-coarse');
    const [all, one, none] = chair.view.offers.filter((o) => o.step === 'strip-coarse');
    expect([all?.kind, one?.kind, none?.kind]).toEqual(['all-passes', 'pass', 'passes-done']);
    expect(chair.do({ do: 'press', offer: present(all, 'all') })).toBeNull();
    const subject = all?.subjects[0] ?? '';
    const first = chair.log.state.runs[`strip-coarse@${subject}`];
    expect([first?.status, first?.counts.length]).toEqual(['done', 3]);
    // A pass that was counted by itself counts: the rest is added, not another three.
    const other = chair.view.offers.find((o) => o.step === 'strip-medium');
    const subjects = [subject];
    expect(other?.subjects).toEqual(subjects);
    const of = (kind: 'pass' | 'all-passes' | 'passes-done', step: string) =>
      chair.do({ do: 'press', offer: { kind, step, subjects } });
    expect([of('pass', 'strip-medium'), of('all-passes', 'strip-medium')]).toEqual([null, null]);
    expect(chair.log.state.runs[`strip-medium@${subject}`]?.counts.length).toBe(3);
    expect(of('passes-done', 'strip-fine')).toBeNull();
    const fine = chair.log.state.runs[`strip-fine@${subject}`];
    expect([fine?.status, fine?.counts.length]).toEqual(['done', 0]);
    expect(chair.log.state.breaches).toEqual([]);
    // One press, one undo.
    expect(chair.do({ do: 'undo' })).toBeNull();
    expect(chair.log.state.runs[`strip-fine@${subject}`]).toBeUndefined();
  });

  it('sends one tooth that catches back to its margins, and only that one', () => {
    const chair = playedTo('finishing', 'explore-distal');
    const offer = {
      kind: 'choose',
      step: 'explore-distal',
      subjects: ['tooth:21'],
      option: 'catch',
    } as const;
    expect(chair.do({ do: 'press', offer })).toBeNull();
    const { runs } = chair.log.state;
    expect([runs['margins@unit:21'], runs['margins@unit:11']?.status]).toEqual([undefined, 'done']);
    expect(chair.next()?.step).toBe('margins');
    chair.toTheEnd();
    expect(chair.view.finished).toBe(true);
    expect(chair.log.state.voided.map((v) => v.reason)).toContain('Catch, refine again');
  });

  it('explores the margins after the bite was adjusted, and strips after both', () => {
    // Flash, margins, bite, exploration, contacts: the order of the trade; common practice, no source.
    const pressed: string[] = [];
    const chair = FamilyChair.of('finishing', 2);
    for (let offer = chair.next(); offer !== null; offer = chair.next()) pressed.push(offer.step);
    const wanted = [
      ...['flash-facial', 'flash-lingual', 'margins', 'bite-marked', 'bite'],
      ...['explore-facial', 'explore-mesial', 'explore-distal', 'explore-lingual'],
      ...['contacts-opened', 'strip-coarse', 'floss', 'polish', 'final-check'],
    ];
    expect(pressed.filter((id, i) => wanted.includes(id) && pressed.indexOf(id) === i)).toEqual(
      wanted,
    );
  });

  it('marks the bite again until it is even', () => {
    const chair = playedTo('finishing', 'bite');
    const offer = { kind: 'choose', step: 'bite', subjects: ['case'], option: 'adjusted' } as const;
    for (let round = 0; round < 3; round++) {
      expect(chair.do({ do: 'press', offer })).toBeNull();
      expect(chair.next()?.step).toBe('bite-marked');
    }
    chair.toTheEnd();
    expect(chair.view.finished).toBe(true);
  });
});

describe('a preparation', () => {
  it('keeps the result of the dry fit unit by unit', () => {
    const chair = playedTo('preparation', 'dry-fit');
    const choose = (unit: string, option: string) =>
      chair.do({
        do: 'press',
        offer: { kind: 'choose', step: 'dry-fit', subjects: [`unit:${unit}`], option },
      });
    expect([choose('11', 'fits'), choose('21', 'send-back')]).toEqual([null, null]);
    const { runs } = chair.log.state;
    expect([runs['dry-fit@unit:11']?.option, runs['dry-fit@unit:21']?.option]).toEqual([
      'fits',
      'send-back',
    ]);
  });

  it('waits 20 min for each cold material by a clock of its own', () => {
    // Faria-e-Silva, Piva, Moraes, Eur J Dent 2010;4:150-155: at least 20 min before use.
    const chair = playedTo('preparation', 'cement-out');
    while (!chair.log.state.runs['eyes-ready@case']) chair.next();
    const { clocks, offers } = chair.view;
    const running = clocks.filter((c) => c.protects === 'warm').map((c) => [c.of, c.minMs]);
    expect(running.toSorted()).toEqual([
      ['adhesive-warms', 1_200_000],
      ['cement-warms', 1_200_000],
    ]);
    const due = new Map(offers.map((o) => [o.step, o.dueInMs]));
    expect((due.get('adhesive-warm') ?? 0) - (due.get('cement-warm') ?? 0)).toBe(20_000);
  });
});

describe.each(['veneers, etch-and-rinse', 'veneers, universal', 'zirconia'] as const)(
  'cement that is late under the second of two units on %s',
  (family) => {
    it('is taken out of that one only: the first is tacked and stays', () => {
      const chair = FamilyChair.of(family, 2);
      const [first = '', second = ''] = layoutOf(chair.log.state).subjects.order.unit;
      const isDone = (step: string, unit: string) =>
        runOf(chair, step, bareId(unit))?.status === 'done';
      while (!isDone('tack', first) || !isDone('load', second)) {
        if (chair.next() === null) throw new Error('never tacked and loaded');
      }
      const now = () => waysBackNow(chair.log.state, layoutOf(chair.log.state), 'over-time');
      expect(now().find((o) => o.wayBack.id === 'cement-late')?.subjects).toEqual(['mix:1']);
      const take = { do: 'take-way-back', wayBack: 'cement-late', mishap: 'over-time' } as const;
      expect(chair.do({ ...take, subjects: ['mix:1'], reason: 'the light failed' })).toBeNull();
      const left = (step: string) =>
        [first, second].map((unit) => chair.log.state.runs[`${step}@${unit}`]?.status);
      expect(['load', 'seat', 'primer'].map(left)).toEqual(Array(3).fill(['done', undefined]));
      chair.toTheEnd();
      expect(chair.view.finished).toBe(true);
      expect(now().some((o) => o.wayBack.id === 'cement-late')).toBe(false);
    });
  },
);

describe.each(SEATING)('a unit set aside on %s', (family) => {
  it('is skipped to the end by one press, with the reason, and the other one is finished', () => {
    const chair = playedTo(family, 'lamp-away');
    const [kept = '', broken = ''] = chair.log.state.plan.order;
    expect(chair.do({ do: 'set-aside', unit: broken, reason: ' ' })?.code).toBe('reason-missing');
    expect(chair.do({ do: 'set-aside', unit: 'x', reason: 'lost' })?.code).toBe('unknown-unit');
    expect(chair.do({ do: 'set-aside', unit: broken, reason: 'cracked on the tray' })).toBeNull();
    chair.toTheEnd();
    expect(chair.view.finished).toBe(true);
    const { runs } = chair.log.state;
    expect(runs[`seat@unit:${kept}`]?.status).toBe('done');
    expect(runs[`seat@unit:${broken}`]).toMatchObject({
      status: 'skipped',
      reason: 'cracked on the tray',
    });
    const others = Object.entries(runs).filter(([, run]) => run.status === 'skipped');
    const wrong = others.filter(([key]) => key.includes(kept) && !key.includes('contact'));
    expect(wrong).toEqual([]);
    expect(chair.do({ do: 'set-aside', unit: broken, reason: 'again' })?.code).toBe('already-done');
    expect(chair.close()).toBeNull();
    expect(chair.do({ do: 'undo' })).toBeNull();
  });

  it('is not asked for again by a way back of its mix or of the whole case', () => {
    const chair = playedTo(family, 'load');
    const [kept = '', broken = ''] = chair.log.state.plan.order;
    const take = (id: string, subjects: readonly string[]) => {
      const { mishap } = present(
        chair.log.state.opened.protocol.waysBack.find((w) => w.id === id),
        id,
      );
      const command = { do: 'take-way-back', wayBack: id, mishap, subjects } as const;
      expect(chair.do({ ...command, reason: 'it went wrong' })).toBeNull();
    };
    chair.next();
    expect(chair.do({ do: 'set-aside', unit: broken, reason: 'cracked on the tray' })).toBeNull();
    take('cement-gelled', ['mix:1']);
    while (chair.view.offers[0]?.step !== 'gel-rinsed') {
      if (chair.next() === null) throw new Error('never rinsed');
    }
    take('light-weak', ['case']);
    chair.toTheEnd();
    const skipped = ['load', 'seat', 'tack', 'expose'].map((s) => runOf(chair, s, broken));
    expect(skipped.map((run) => run?.status)).toEqual(Array(4).fill('skipped'));
    expect(runOf(chair, 'expose', kept)?.status).toBe('done');
    const { waysBack } = chair.log.state.opened.protocol;
    const offered = waysBackNow(chair.log.state, layoutOf(chair.log.state));
    expect(waysBack.some((w) => w.per === 'unit')).toBe(true);
    expect(offered.flatMap((o) => o.subjects)).not.toContain(`unit:${broken}`);
  });

  it('leaves nothing to be explained when every unit was, and the case can be closed', () => {
    const chair = playedTo(family, 'lamp-away');
    for (const unit of chair.log.state.plan.order) {
      expect(chair.do({ do: 'set-aside', unit, reason: 'the patient left' })).toBeNull();
    }
    chair.toTheEnd();
    expect(chair.close()).toBeNull();
  });

  it('leaves no contact to be flossed that only it would have had', () => {
    const chair = playedTo(family, 'lamp-away');
    const [, broken = ''] = chair.log.state.plan.order;
    expect(chair.do({ do: 'set-aside', unit: broken, reason: 'cracked on the tray' })).toBeNull();
    const { subjects } = layoutOf(chair.log.state);
    const status = (contact: string) =>
      chair.toTheEnd().log.state.runs[`contacts-flossed@${contact}`]?.status;
    for (const contact of subjects.order.contact) {
      const isShared = subjects.linked(contact, 'unit').some((u) => u !== `unit:${broken}`);
      expect([contact, status(contact)]).toEqual([contact, isShared ? 'done' : 'skipped']);
    }
  });
});

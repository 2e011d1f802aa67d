/** What stands around the work: alerts, beads, what must be answered, undo, the light's reason, counts, injections. */

import { elapsed } from '../../src/engine/axis.ts';
import { layoutOf, surfacePlans } from '../../src/engine/layout.ts';
import type { CaseEvent, CaseInstant, Elapsed } from '../../src/engine/types.ts';
import { ZONE } from '../tools/here.ts';
import type { Check, Scene } from './check.ts';
import { answersTo } from './check-bar.ts';
import { allOf, type Drawn, textAt, textOf, textsOf } from './drawn-chair.tsx';
import { edgeOf, type Limit } from './plain-log.ts';
import { down, nameOf, namesOf, spelled, surfaceOf, teethOf, up } from './plain-words.ts';

const hasAnswers = (banner: Drawn): boolean => textsOf(banner, 'lw-button').length > 0;

const isOver = (l: Limit): boolean => l.maxMs !== null && l.elapsed.hiMs >= l.maxMs;
const isSurelyOver = (l: Limit): boolean => l.maxMs !== null && l.elapsed.loMs >= l.maxMs;

/** A window warns when a fifth of it is left, and at most two minutes before. */
const isClosing = (l: Limit): boolean =>
  l.maxMs !== null && l.maxMs - l.elapsed.hiMs <= Math.min(120_000, Math.round(l.maxMs / 5));

function alertOf(l: Limit): readonly string[] {
  if (l.kind === 'window') {
    if (isSurelyOver(l)) return [`${l.title}: outside the window`];
    if (isOver(l)) return [`${l.title}: perhaps outside the window`];
    const isSure = isClosing({ ...l, elapsed: { loMs: l.elapsed.loMs, hiMs: l.elapsed.loMs } });
    return isClosing(l) ? [`${l.title}: ${isSure ? '' : 'perhaps '}closing`] : [];
  }
  if (isSurelyOver(l)) return [`${l.title}: over the limit`];
  return isOver(l) ? [`${l.title}: perhaps over the limit`] : [];
}

/** Since when it has been so, by the longest time that may have passed. */
function ageOf(l: Limit, words: string): string {
  const sinceMs = l.elapsed.hiMs - (l.maxMs ?? 0);
  if (l.elapsed.loMs !== l.elapsed.hiMs) return 'since when is not known';
  const lead = Math.min(120_000, Math.round((l.maxMs ?? 0) / 5));
  const ms = words.endsWith('closing') ? sinceMs + lead : sinceMs;
  return `${spelled(Math.max(1, down(ms)))} ago`;
}

const alerts: Check = {
  name: 'an alert: what is closing, over or outside, on what, since when',
  entries: [
    'clock.cues.over',
    'clock.cues.window-closing',
    'clock.cues.window-broken',
    'clock.cuesInDoubt.over',
    'clock.cuesInDoubt.window-closing',
    'clock.cuesInDoubt.window-broken',
    'part.cueAge',
    'part.cueAgeUnknown',
    'part.acknowledgeName',
  ],
  complaints: (scene) =>
    allOf(scene.drawn, 'lw-cue').flatMap((card) => {
      const words = textAt(card, 'lw-cue-words') ?? '';
      const subject = textAt(card, 'lw-cue-subject') ?? '';
      const age = textAt(card, 'lw-cue-age') ?? '';
      const name = allOf(card, 'lw-cue-button')[0]?.attributes['aria-label'];
      const real = scene.limits.filter((l) => alertOf(l).includes(words));
      const isMine = real.some((l) => {
        const together = scene.limits.filter((o) => o.of === l.of && o.since.loMs === l.since.loMs);
        const names = namesOf([...new Set(together.map((o) => o.subject))], scene.plain);
        return names === subject && ageOf(l, words) === age;
      });
      const told = real.map((l) => `${nameOf(l.subject, scene.plain)}, ${ageOf(l, words)}`);
      return [
        ...(isMine ? [] : [`“${words}” ${subject}, ${age}; by the log: ${told.join(' | ')}`]),
        ...(name === `Seen: ${words}` ? [] : [`named ${name}`]),
      ];
    }),
};

/** When a portion that is out was made; null when it was not, or was thrown away. */
function madeAt({ plain }: Scene, mix: string): CaseInstant | null {
  const ends = layoutOf(plain.log.state).instances.filter((i) => i.subject === mix);
  const at = ends.flatMap((i) => edgeOf(plain.runs.get(i.key), 'end') ?? []);
  return at.toSorted((a, b) => a.loMs - b.loMs)[0] ?? null;
}

function beadLines(scene: Scene): readonly string[] {
  const { plain, now } = scene;
  return layoutOf(plain.log.state).subjects.order.mix.flatMap((mix) => {
    const made = madeAt(scene, mix);
    if (made === null) return [];
    const probes = plain.of('bead-probed').filter((e) => e.mix === mix && e.at.loMs >= made.loMs);
    const last = probes.at(-1);
    const sinceMs = elapsed(last?.at ?? made, now).hiMs;
    const name = nameOf(mix, plain);
    if (sinceMs >= 60_000) {
      return [`Probe the bead of ${name} now. The mouth is warmer: cement there is ahead of it.`];
    }
    return [
      `Bead of ${name}, ${last ? 'probed' : 'cement out'} ${spelled(Math.max(1, down(sinceMs)))} ago`,
    ];
  });
}

const isLoadedIn = (scene: Scene, unit: string): boolean =>
  layoutOf(scene.plain.log.state).instances.some(
    ({ key, subject, step: { action } }) =>
      subject === `unit:${unit}` &&
      action.kind === 'confirm' &&
      action.evidence?.kind === 'read-back' &&
      scene.plain.runs.has(key),
  );

/** What may have gone wrong, with whom it befell or without. */
function mishapNames(name: string): readonly string[] {
  const unit = name === '' ? 'A unit' : name;
  const tail = name === '' ? '' : ` ${name}`;
  const of = name === '' ? '' : `, ${name}`;
  return [
    ...['will not seat', 'dropped', 'chipped', 'left in light'].map((each) => `${unit} ${each}`),
    ...['Saliva', 'Blood', 'Dried out', 'Astringent'].map((each) => `${each}${tail}`),
    ...['Too late', 'Too short', 'Gels early'].map((each) => `${each}${of}`),
    ...['Wrong material', 'Light failed', 'Light weak', 'Patient must rinse', 'Stopped'],
  ];
}

const atHand: Check = {
  name: 'what is at hand: the bead since the cement was out or it was probed, the unit in hand, the next two',
  entries: [
    'atHand.probeNow',
    'atHand.probed',
    'atHand.laid',
    'atHand.found',
    'atHand.mishap.',
    'atHand.swap',
  ],
  complaints: (scene) => {
    const { plain, drawn } = scene;
    const [at] = allOf(drawn, 'chair-at-hand');
    if (at === undefined) return [];
    const lines = allOf(at, 'chair-at-hand').length >= 0 ? paragraphs(at) : [];
    const beads = beadLines(scene);
    const buttons = allOf(at, 'lw-button');
    const layout = layoutOf(plain.log.state);
    const { order } = plain.log.state.plan;
    const left = order
      .filter((unit) => !isLoadedIn(scene, unit))
      .map((unit) => nameOf(`unit:${unit}`, plain));
    const mixes = layout.subjects.order.mix.map((mix) => nameOf(mix, plain));
    const subjects = Object.values(layout.subjects.order).flat();
    const fine = new Set([
      'Went wrong',
      ...['', ...subjects.map((each) => nameOf(each, plain))].flatMap(mishapNames),
      `${left[1]} before ${left[0]}`,
    ]);
    const said = mixes.flatMap((mix) =>
      ['Soft', 'Stringy', 'Firm'].map((f) => `Bead of ${mix}: ${f}`),
    );
    return [
      ...lines
        .filter((each) => !beads.includes(each))
        .map((each) => `“${each}”, by the log: ${beads.join(' | ')}`),
      ...buttons.flatMap((button) => {
        const words = textOf(button);
        const name = button.attributes['aria-label'];
        if (name !== undefined)
          return said.includes(name) && name.endsWith(`: ${words}`) ? [] : [name];
        return fine.has(words) ? [] : [`“${words}”, loaded next: ${left.join(' ')}`];
      }),
    ];
  },
};

const paragraphs = (at: Drawn): readonly string[] =>
  at.inside.flatMap((each) => (typeof each !== 'string' && each.tag === 'p' ? [textOf(each)] : []));

function reasonsNow(scene: Scene): readonly string[] {
  const { plain, limits } = scene;
  const mixes = layoutOf(plain.log.state).subjects.order.mix;
  const ofMix = mixes.flatMap((mix) => {
    const name = nameOf(mix, plain);
    const own = limits.filter((l) => l.from.endsWith(`@${mix}`) && l.maxMs !== null);
    if (own.length === 0) return [];
    const last = plain
      .of('bead-probed')
      .filter((e) => e.mix === mix)
      .at(-1);
    const isFirm = last?.found === 'firm' && own.some((l) => last.at.loMs >= l.since.loMs);
    if (isFirm) return [`The bead of ${name} is firm.`];
    if (own.some(isSurelyOver)) return [`The working time of ${name} is over.`];
    return own.some(isOver) ? [`The working time of ${name} may be over.`] : [];
  });
  const failed = plain
    .of('way-back-taken')
    .filter((e) => e.mishap === 'light-failed')
    .at(-1);
  const litSince = plain
    .of('exposure-started')
    .some((e) => failed !== undefined && e.at.loMs >= failed.at.loMs && e.at !== failed.at);
  return [...ofMix, ...(failed === undefined || litSince ? [] : ['The light failed.'])];
}

const atOnce: Check = {
  name: 'what must be answered now has happened',
  entries: ['atOnce.because.', 'atOnce.again'],
  complaints: (scene) => {
    const [at] = allOf(scene.drawn, 'chair-at-once');
    if (at === undefined) return [];
    const real = reasonsNow(scene);
    const answers = answersTo(scene);
    return [
      ...paragraphs(at)
        .filter((each) => !real.includes(each))
        .map((each) => `“${each}”, by the log: ${real.join(' | ')}`),
      ...textsOf(at, 'lw-button').filter((each) => ![...answers, 'Went wrong'].includes(each)),
    ];
  },
};

const minutes = (ms: number): string =>
  ms > 0 && ms < 60_000 ? 'under 1 min' : spelled(Math.floor(ms / 60_000) * 60);

function since({ loMs, hiMs }: Elapsed): string {
  if (!Number.isFinite(hiMs)) return `${minutes(loMs)} or more`;
  const [lo, hi] = [minutes(loMs), minutes(hiMs)];
  return lo === hi ? lo : `${lo} to ${hi}`;
}

/** The number at the head of what was typed. */
const typed = (evidence: string | null): string => {
  const found = /^\s*(\d+(?:[.,]\d+)?)/.exec(evidence ?? '')?.[1];
  return found === undefined ? 'not noted' : String(Number(found.replace(',', '.')));
};

function total(parts: readonly string[]): string {
  if (parts.includes('not noted')) return 'not noted';
  return String(parts.reduce((sum, each) => sum + Number(each), 0));
}

/** What went in and is not out, and what did not come out as it went in. */
function countLines(scene: Scene): readonly string[] {
  const { plain, now } = scene;
  const layout = layoutOf(plain.log.state);
  return layout.instances.flatMap(({ step, subject, key }) => {
    const reading = step.action.kind === 'confirm' ? step.action.evidence : undefined;
    if (reading?.kind !== 'reading' || reading.equals === undefined) return [];
    const into = layout.instances.filter(
      (i) => i.step.id === reading.equals && (i.subject === subject || subject === 'case'),
    );
    const went = into.flatMap((i) => {
      const run = plain.runs.get(i.key);
      const at = edgeOf(run, 'end');
      return run === undefined || at === null ? [] : [{ at, count: typed(run.evidence) }];
    });
    const first = went.toSorted((a, b) => a.at.loMs - b.at.loMs)[0];
    if (first === undefined) return [];
    const run = plain.runs.get(key);
    const counted = total(went.map(({ count }) => count));
    const put = layout.protocol.steps.find(({ id }) => id === reading.equals)?.action;
    const asked = put?.kind === 'confirm' ? put.evidence : undefined;
    const label = asked?.kind === 'reading' ? asked.label : reading.label;
    const ago = since(elapsed(first.at, now));
    if (run === undefined) {
      return counted === 'not noted'
        ? [`${label}: no number noted, ${ago} ago. How many are in?`]
        : [`${label}: ${counted} in, for ${ago}`];
    }
    const out = run.isSkipped ? 'not noted' : typed(run.evidence);
    if (out === counted && out !== 'not noted') return [];
    if (out === 'not noted' || counted === 'not noted') {
      return [
        `${reading.label}: in ${counted}, out ${out}. Look whether any is left before you sign.`,
      ];
    }
    return [`${reading.label}: ${counted} in, ${out} out. Look for it before you sign.`];
  });
}

const counts: Check = {
  name: 'what was counted in and out, and for how long it is in',
  entries: [
    'beside.inSince',
    'beside.inUnknown',
    'beside.uneven',
    'beside.unknown',
    'beside.notCounted',
    'beside.underMinute',
    'beside.fromTo',
    'beside.orMore',
  ],
  complaints: (scene) => {
    const lines = allOf(scene.drawn, 'chair-beside').map(textOf);
    const banners = allOf(scene.drawn, 'lw-banner')
      .filter((each) => !hasAnswers(each) && textAt(each, 'lw-banner-advice') === null)
      .map((each) => textAt(each, 'lw-banner-words') ?? '');
    const isOfInjection = (each: string) =>
      / since the injection| elapsed|^Lip |^Contacts /.test(each);
    const real = countLines(scene);
    const told = [...lines, ...banners].filter((each) => !isOfInjection(each));
    return told
      .filter((each) => !real.includes(each))
      .map((each) => `“${each}”, by the log: ${real.join(' | ')}`);
  },
};

const injections: Check = {
  name: 'how long ago was injected, what and where',
  entries: [
    'beside.elapsed',
    'beside.forTeeth',
    'beside.agents.',
    'beside.techniques.',
    'beside.details',
    'beside.underMinute',
    'beside.fromTo',
    'beside.orMore',
  ],
  complaints: (scene) => {
    const { plain, now } = scene;
    const told = allOf(scene.drawn, 'chair-beside')
      .map(textOf)
      .filter((each) => each.includes(' elapsed'));
    const real = plain.of('anaesthesia-given').map((e) => {
      const teeth = namesOf(
        e.teeth.map((each) => `tooth:${each}`),
        plain,
      );
      return `Articaine 4 %, adrenaline 1:100 000: ${since(elapsed(e.at, now))} elapsedUpper infiltration, ${teeth};`;
    });
    return told
      .filter((each) => !real.some((line) => each.startsWith(line)))
      .map((each) => `“${each}”, by the log: ${real.join(' | ')}`);
  },
};

const decimals = (ms: number): string => String(Math.round(ms / 100) / 10);

const light: Check = {
  name: 'what the lamp is set to: what is left of it, or the dose that it is worked out from',
  entries: ['lightLine.'],
  complaints: (scene) => {
    const { plain, drawn, running } = scene;
    const top = running.view.offers[0];
    const detail = allOf(drawn, 'lw-step-detail')[0];
    const line = (detail === undefined ? [] : paragraphs(detail)).at(1);
    if (top?.surface === undefined || line === undefined) return [];
    const layout = layoutOf(plain.log.state);
    const instance = layout.byKey.get(`${top.step}@${top.subjects[0]}`);
    const plan = instance && surfacePlans(layout, instance).find((p) => p.surface === top.surface);
    if (instance === undefined || plan === undefined) return ['no light is planned here'];
    const run = plain.runs.get(instance.key);
    const isLit = run?.lit?.surface === top.surface && run.lit.position === top.position;
    const now =
      isLit && run?.lit ? Math.min(run.lit.setMs, elapsed(run.lit.since, scene.now).loMs) : 0;
    const givenMs = (run?.givenMs.get(`${top.surface} ${top.position}`) ?? 0) + now;
    const leftMs = plan.setMs - givenMs;
    const { light: lamp } = plain.log.state.opened.spec;
    const { doseMs = 0, doseJPerCm2 = 0, behindMm } = plan.reason ?? {};
    const dose = `${doseJPerCm2} J/cm²${behindMm == null ? '' : ` behind ${behindMm} mm`}`;
    const of = decimals(plan.setMs);
    // Several short presses make the whole; the first that ends later than what was given is next.
    const ends = (plan.presses ?? [plan.setMs]).map((_, i, all) =>
      all.slice(0, i + 1).reduce((a, b) => a + b, 0),
    );
    const nextEnd = ends.find((end) => Math.min(end, plan.setMs) - givenMs >= 3000) ?? plan.setMs;
    const setMs = Math.min(nextEnd, plan.setMs) - givenMs;
    const set = setMs === plan.setMs ? `${of} s` : `${decimals(setMs)} of ${of} s`;
    const needs = decimals(doseMs);
    const real = [
      ...(leftMs > 0 && givenMs > 0 ? [`${decimals(setMs)} s: what is left of ${of} s`] : []),
      ...(plan.decidedBy === 'product' && doseMs === 0 ? [`${set}: the product’s own time`] : []),
      ...(doseMs > 0 && plan.setMs >= doseMs && plan.decidedBy === 'dose'
        ? [`${set}: ${needs} s for ${dose}, next programme`]
        : []),
      ...(doseMs > 0 && plan.setMs >= doseMs && plan.decidedBy === 'product'
        ? [`${set}: the product’s own time; ${dose} takes ${needs} s`]
        : []),
      ...(plan.setMs < doseMs ? [`${set}, the most allowed; ${dose} would take ${needs} s`] : []),
    ];
    return real.includes(line)
      ? []
      : [`“${line}”, by the log: ${real.join(' | ')}; ${lamp.tipDiameterMm}`];
  },
};

const tip: Check = {
  name: 'which place the tip goes to',
  entries: ['chair.tipPlace'],
  complaints: ({ drawn, plain, running, now }) => {
    const [at] = allOf(drawn, 'chair-tip');
    const top = running.view.offers[0];
    if (at === undefined || top?.surface === undefined) return [];
    const layout = layoutOf(plain.log.state);
    const instance = layout.byKey.get(`${top.step}@${top.subjects[0]}`);
    const plan = instance && surfacePlans(layout, instance).find((p) => p.surface === top.surface);
    const run = plain.runs.get(instance?.key ?? '');
    const on = run?.lit;
    const owed = Array.from({ length: plan?.positions ?? 0 }, (_, i) => i + 1).filter((place) => {
      const given = run?.givenMs.get(`${top.surface} ${place}`) ?? 0;
      const isLit = on?.surface === top.surface && on?.position === place;
      const lit = isLit && on ? Math.min(on.setMs, elapsed(on.since, now).loMs) : 0;
      return given + lit < (plan?.setMs ?? 0) || isLit;
    });
    const real = owed.map((place) => `Tip: spot ${place} of ${plan?.positions}`);
    const name = at.attributes['aria-label'] ?? '';
    return real.includes(name) ? [] : [`“${name}”, by the log: ${real.join(' | ')}`];
  },
};

const rail: Check = {
  name: 'the numbering of the case, and a rehearsal with its speed',
  entries: ['chair.numberings.', 'part.rehearsal'],
  complaints: ({ drawn, plain, running }) => {
    const items = allOf(drawn, 'lw-status-item');
    const numbering = items.find((each) => each.attributes['data-item'] === 'numbering');
    const named = { fdi: 'FDI', universal: 'Universal', palmer: 'Palmer' }[plain.notation as 'fdi'];
    const rehearsal = items
      .filter((each) => each.attributes['data-tone'] === 'rehearsal')
      .map(textOf);
    const isRehearsal = plain.log.state.opened.mode === 'rehearsal';
    const wanted = isRehearsal ? [`REHEARSAL ${running.speed}×`] : [];
    return [
      ...(numbering !== undefined && textOf(numbering) === named
        ? []
        : [`numbering, by the log: ${named}`]),
      ...(rehearsal.join() === wanted.join() ? [] : [rehearsal.join()]),
    ];
  },
};

type Told = CaseEvent & { readonly press: number };

/** What one press did, in the words of its last entry that has any; a way back is one thing. */
function pressSentences(scene: Scene, events: readonly Told[]): readonly string[] {
  const { plain } = scene;
  const { protocol, spec } = plain.log.state.opened;
  const skipped = events.filter((e) => e.type === 'step-skipped');
  const all = events.flatMap((event): string[] => {
    const places = 'places' in event ? event.places : [];
    const led = [...new Set(places.map(({ subject }) => subject))];
    const subjects =
      'subjects' in event ? event.subjects : 'subject' in event ? [event.subject] : led;
    const name = namesOf(subjects, plain);
    const counted = places.length === 1 ? '1 place' : `${places.length} places`;
    const step = protocol.steps.find(({ id }) => 'step' in event && id === event.step);
    const title = step?.title ?? '';
    const begun = protocol.steps.filter(
      (each) => each.beginsWith !== undefined && each.beginsWith === step?.id,
    );
    const templates = [step, ...begun]
      .flatMap((each) => [
        each?.words?.start,
        each?.words?.end,
        each?.some?.words?.start,
        each?.some?.words?.end,
      ])
      .flatMap((text) =>
        text === undefined
          ? []
          : [
              text
                .replaceAll('{subject}', name)
                .replaceAll('{n}', '')
                .replaceAll('{of}', '')
                .trim(),
            ],
      );
    const named = templates.map((text) => `${text}, ${name}`);
    templates.push(...named);
    switch (event.type) {
      case 'step-skipped':
        return [`Skipped: ${title}${name && ` ${name}`}`];
      case 'way-back-taken':
        return [name === '' ? 'Way back' : `Way back of ${name}`];
      case 'pass-made':
        return [`${title} ${name}`];
      case 'option-chosen':
        return step?.action.kind === 'choose'
          ? step.action.options.filter(({ id }) => id === event.option).map(({ label }) => label)
          : [];
      case 'exposure-started':
        return [
          `Light on ${name}, ${surfaceOf(
            event.surface,
            subjects.flatMap((s) => teethOf(s, plain)),
          )}`,
        ];
      case 'exposure-stopped':
        return [`Light off ${name}`];
      case 'light-pass-begun':
        return [`Light pass on ${name}, ${counted}`];
      case 'light-pass-stopped':
        return ['Light stopped'];
      case 'light-pass-confirmed':
        return places.length === 0 ? ['Nothing was lit'] : [`${name}: lit, ${counted}`];
      case 'tones-heard':
        return [event.heard ? 'Tones heard' : 'Tones not heard'];
      case 'bead-probed':
        return [`Bead: ${event.found}`];
      case 'visit-stopped':
        return ['Stopped early'];
      case 'mix-added':
        return ['Another portion'];
      case 'plan-changed':
        return ['Plan changed'];
      case 'gap-settled':
        return ['Length of the gap'];
      case 'cue-acknowledged':
        return ['Warning seen'];
      case 'note-added':
        return ['Note'];
      case 'role-taken':
        return [`${spec.people.find(({ id }) => id === event.person)?.label} presses`];
      case 'material-named':
        return [`Lot of ${protocol.slots.find(({ id }) => id === event.slot)?.label}`];
      case 'shade-tried':
        return ['Shade tried'];
      case 'numbering-changed':
        return ['Numbering changed'];
      case 'anaesthesia-given':
        return ['Anaesthesia given'];
      case 'press-retimed':
        return ['Moved in time'];
      case 'step-confirmed': {
        const asks =
          step?.action.kind === 'confirm' &&
          /reading|note|choice/.test(step.action.evidence?.kind ?? '');
        return event.evidence === undefined && asks
          ? [`${title}: not entered`]
          : [...templates, title];
      }
      case 'step-started':
        return [...templates, title, `${title}: start${name && ` ${name}`}`];
      case 'step-ended':
      case 'coat-applied':
        return [...templates, title];
      default:
        return [];
    }
  });
  const lines = events.filter((e) => 'list' in e && e.list !== undefined);
  if (lines.length > 1) {
    const lists = protocol.lists ?? [];
    return lists
      .filter(({ id }) => lines.every((e) => 'list' in e && e.list === id))
      .map((list) => `${list.title}, ${lines.length} lines`);
  }
  // A press that is one thing is told as that thing, whatever it skipped or voided with it.
  if (events.some((e) => e.type === 'visit-stopped')) return ['Stopped early'];
  const units = new Set(
    skipped.flatMap(({ subjects }) => subjects.filter((s) => s.startsWith('unit:'))),
  );
  const aside =
    skipped.length >= 2 && skipped.length === events.length
      ? [...units].map((u) => `${nameOf(u, plain)} set aside`)
      : [];
  return [...all, ...aside];
}

const undo: Check = {
  name: 'undo names the press that it takes back, and how long it can',
  entries: [
    'part.undoName',
    'surface.',
    'offer.begin',
    'offer.lightOffTooth',
    'offer.linesPressed',
    'offer.retimed',
    'offer.anaesthesia',
    'offer.mixAdded',
    'offer.planChanged',
    'offer.bead',
    'offer.beadFound.',
    'offer.shade',
    'offer.gapSettled',
    'offer.seen',
    'offer.numbering',
    'offer.note',
    'offer.person',
    'offer.material',
    'offer.stopped',
    'offer.notEntered',
    'offer.passMade',
    'offer.skipped',
    'offer.wayBack',
    'offer.setAside',
  ],
  complaints: (scene) => {
    const { undo: open } = scene.running;
    const [at] = allOf(scene.drawn, 'lw-undo');
    if (open === null || at === undefined) return [];
    const events = scene.plain.events.filter(({ press }) => press === open.press);
    const real = pressSentences(scene, events);
    const what = textAt(at, 'lw-undo-what') ?? '';
    const name = `Undo ${what}, ${up(open.untilRealMs)} s left`;
    return [
      ...(real.includes(what) ? [] : [`“${what}”, by the log: ${real.join(' | ')}`]),
      ...(at.attributes['aria-label'] === name ? [] : [`${at.attributes['aria-label']} — ${name}`]),
    ];
  },
};

/** "Sat 28 Nov, 09:01": a begun minute counts, so that nobody goes on before. */
function dayAndMinute(ms: number): string {
  const at = new Date(Math.ceil(ms / 60_000) * 60_000);
  const part = (o: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat('en-GB', { ...o, timeZone: ZONE }).format(at);
  const time = part({ hour: '2-digit', minute: '2-digit', hour12: false });
  return `${part({ weekday: 'short' })} ${part({ day: 'numeric' })} ${part({ month: 'short' })}, ${time}`;
}

const holds: Check = {
  name: 'until when a hold runs, what it protects',
  entries: ['beside.holdRuns', 'beside.holdLeaves', 'beside.holdProtects', 'beside.holdAsks'],
  complaints: (scene) => {
    const { plain, running, drawn } = scene;
    const { protocol, spec } = plain.log.state.opened;
    if (spec.follows === undefined) return [];
    const top = running.view.offers[0];
    const open = scene.limits.flatMap((l) => {
      const window = protocol.windows.find((w) => w.id === l.of && w.protects === 'hold');
      const leftMs = (l.minMs ?? 0) - l.elapsed.loMs;
      return window && leftMs > 0 ? [{ window, untilMs: running.now.wallMs + leftMs }] : [];
    });
    const own = open.filter(({ window }) => window.to.step === top?.step);
    const until = (all: typeof open) => dayAndMinute(Math.max(...all.map((each) => each.untilMs)));
    const titles = [...new Set(own.map(({ window }) => window.title))].join(', ');
    const stepTitle = (id: string) => protocol.steps.find((each) => each.id === id)?.title ?? '';
    const left = [...new Set(open.map(({ window }) => stepTitle(window.to.step)))];
    const last = left.at(-1) ?? '';
    const list = left.length < 2 ? last : `${left.slice(0, -1).join(', ')} and ${last}`;
    const real = [
      ...(own.length > 0
        ? [`Not before ${until(own)} ${titles}. Going on now needs a reason.`]
        : []),
      ...(open.length > 0 ? [`The hold runs until ${until(open)} Left until then: ${list}.`] : []),
    ];
    const told = allOf(drawn, 'lw-banner')
      .filter((each) => !hasAnswers(each) && textAt(each, 'lw-banner-advice') !== null)
      .map((each) => `${textAt(each, 'lw-banner-words')} ${textAt(each, 'lw-banner-advice')}`);
    return told
      .filter((each) => !real.includes(each))
      .map((each) => `“${each}”, by the log: ${real.join(' | ')}`);
  },
};

export const asideChecks: readonly Check[] = [
  alerts,
  atHand,
  atOnce,
  counts,
  holds,
  injections,
  light,
  tip,
  rail,
  undo,
];

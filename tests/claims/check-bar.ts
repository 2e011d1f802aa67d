/** What bar, heading and the line of what comes next say: which coat, which spot, when, of how many, whose. */
import { elapsed } from '../../src/engine/axis.ts';
import { type Instance, layoutOf, restMs, surfacePlans } from '../../src/engine/layout.ts';
import type { Offer } from '../../src/engine/view-types.ts';
import type { Evidence, Step } from '../../src/protocol/types.ts';
import { butPasses, type Check, type Scene } from './check.ts';
import { allOf, type Drawn, textAt, textOf, textsOf } from './drawn-chair.tsx';
import { type Limit, lastLight } from './plain-log.ts';
import { nameOf, namesOf, soon, spelled, surfaceOf, teethOf, up } from './plain-words.ts';

const stepIn = ({ plain }: Scene, id: string): Step | undefined =>
  layoutOf(plain.log.state).protocol.steps.find((step) => step.id === id);

/** Coats, passes or the light's places so far on the first of its subjects. */
function madeOf(scene: Scene, offer: Offer): number {
  return scene.plain.runs.get(`${offer.step}@${offer.subjects[0]}`)?.coats.length ?? 0;
}

function limitOf(step: Step | undefined): number {
  if (step?.action.kind === 'coats') return step.action.count.value;
  return step?.action.kind === 'tally' ? step.action.passesMax.value : 0;
}

/** Words that the protocol has for a step, filled as the log says. */
function templatesOf(scene: Scene, offer: Offer): readonly string[] {
  const { protocol } = layoutOf(scene.plain.log.state);
  const step = stepIn(scene, offer.step);
  const begun = protocol.steps.filter((other) => other.beginsWith === offer.step);
  const own = [step, ...begun].flatMap((each) => [each?.words, each?.some?.words]);
  const made =
    offer.kind === 'coat' || offer.kind === 'pass'
      ? madeOf(scene, offer) + 1
      : madeOf(scene, offer);
  const n =
    offer.kind === 'confirm' || offer.kind === 'start' || offer.kind === 'end' ? '' : String(made);
  const of = n === '' ? '' : String(limitOf(step));
  return (
    own
      .flatMap((words) => [words?.start, words?.end])
      .flatMap((text) => (text === undefined ? [] : [text]))
      .map((text) =>
        text
          .replaceAll('{subject}', namesOf(offer.subjects, scene.plain))
          .replaceAll('{n}', n)
          .replaceAll('{of}', of)
          .trim(),
      )
      // What is written for all says of fewer who they are.
      .flatMap((text) => [text, `${text}, ${namesOf(offer.subjects, scene.plain)}`])
  );
}

function lightWords(scene: Scene, offer: Offer): readonly string[] {
  const { plain } = scene;
  const subject = namesOf(offer.subjects, plain);
  if (offer.kind === 'light-off') {
    const lit = scene.limits.find((l) => l.kind === 'light' && offer.subjects.includes(l.subject));
    if (lit === undefined) return [];
    const teeth = offer.subjects.flatMap((s) => teethOf(s, plain));
    return [`Light off ${subject}, ${surfaceOf(lit.surface ?? '', teeth)}`, `Light off ${subject}`];
  }
  const layout = layoutOf(plain.log.state);
  const instance = layout.byKey.get(`${offer.step}@${offer.subjects[0]}`);
  if (instance === undefined) return [];
  const run = plain.runs.get(instance.key);
  const teeth = offer.subjects.flatMap((s) => teethOf(s, plain));
  // Every place that still lacks light may come next.
  return surfacePlans(layout, instance).flatMap((plan) =>
    Array.from({ length: plan.positions }, (_, i) => i + 1).flatMap((at) => {
      const place = `${plan.surface} ${at}`;
      const isLit = run?.lit?.surface === plan.surface && run.lit.position === at;
      const now =
        isLit && run?.lit ? Math.min(run.lit.setMs, elapsed(run.lit.since, scene.now).loMs) : 0;
      if ((run?.givenMs.get(place) ?? 0) + now >= plan.setMs) return [];
      const spot = plan.positions > 1 ? `, spot ${at} of ${plan.positions}` : '';
      const verb = offer.kind === 'light-on' ? 'Light on' : 'Light to';
      return [`${verb} ${subject}, ${surfaceOf(plan.surface, teeth)}${spot}`];
    }),
  );
}

/** What one press may be called. */
export function namesFor(scene: Scene, offer: Offer): readonly string[] {
  const step = stepIn(scene, offer.step);
  const title = step?.title ?? offer.step;
  const subject = namesOf(offer.subjects, scene.plain);
  const of = limitOf(step);
  const next = madeOf(scene, offer) + 1;
  switch (offer.kind) {
    case 'start':
      return [...templatesOf(scene, offer), `${title}: start${subject && ` ${subject}`}`];
    case 'end':
    case 'confirm':
      return [...templatesOf(scene, offer), `${title}: done${subject && ` ${subject}`}`];
    case 'coat':
      return offer.between === undefined
        ? [...templatesOf(scene, offer), `Coat ${next} of ${of} on ${subject}`]
        : [`Coats ${next} to ${next + offer.between} on ${subject}`];
    case 'pass':
      return [...templatesOf(scene, offer), `Pass ${next} of ${of}, ${subject}`];
    case 'all-passes':
      return [of === 1 ? `${title}: 1 pass, ${subject}` : `${title}: ${of} passes, ${subject}`];
    case 'passes-done':
      return next === 1
        ? [`${title}: none needed, ${subject}`]
        : [...templatesOf(scene, offer), `${title}: done${subject && ` ${subject}`}`];
    case 'choose':
      return step?.action.kind === 'choose' ? step.action.options.map(({ label }) => label) : [];
    case 'light-on':
    case 'light-move':
    case 'light-off':
      return lightWords(scene, offer);
    case 'list':
      return listsIn(scene).flatMap(({ id, words }) => (id === offer.list ? [words] : []));
    default:
      return ['Close the case'];
  }
}

const ENTRIES = ['reading', 'note', 'choice'];

/** Materials that a step of this case uses, of which the log names no lot, where they are read. */
function lotsLeft({ plain }: Scene, evidence: Evidence | undefined): number {
  if (evidence?.kind !== 'read-back' || evidence.of !== 'materials') return 0;
  const { instances, protocol } = layoutOf(plain.log.state);
  const used = instances.flatMap(({ step }) => step.uses ?? []);
  const named = plain.events.flatMap((event) =>
    event.type === 'material-named' ? [event.slot] : [],
  );
  const asked = protocol.slots.filter((s) => s.optional !== true || used.includes(s.id));
  return asked.filter(({ id }) => !named.includes(id)).length;
}

const listsIn = ({ plain }: Scene) => plain.log.state.opened.protocol.lists ?? [];

/** The lines of a list in hand of which a press would take nothing: unanswered, unticked, or behind such a one. */
function openLines(scene: Scene, offer: Offer): readonly (Step | undefined)[] {
  const { answers } = scene.running;
  const layout = layoutOf(scene.plain.log.state);
  const open = new Set<string>();
  const steps: (Step | undefined)[] = [];
  for (const { step: id, subjects } of offer.lines ?? []) {
    const step = stepIn(scene, id);
    const draft = answers[`${id} ${subjects.join(' ')}`];
    const action = step?.action;
    const isAsked =
      action?.kind === 'choose'
        ? draft?.option === undefined
        : action?.kind === 'confirm' &&
          (ENTRIES.includes(action.evidence?.kind ?? '') ||
            (action.evidence?.kind === 'material' && !isLotNamed(scene, action.evidence.slot))) &&
          draft?.evidence === undefined;
    const keys = subjects.map((subject) => `${id}@${subject}`);
    const isHeld = keys.some((key) =>
      layout.byKey.get(key)?.needs.some((need) => open.has(need.key)),
    );
    if (!isAsked && !isHeld && draft?.isTicked !== false) continue;
    for (const key of keys) open.add(key);
    steps.push(step);
  }
  return steps;
}

const isLotNamed = ({ plain }: Scene, slot: string): boolean =>
  plain.events.some((event) => event.type === 'material-named' && event.slot === slot);

/** Of how many materials a press of the list says that they were read without a lot. */
function lotsOfList(scene: Scene, offer: Offer): string {
  const open = openLines(scene, offer);
  const read = (offer.lines ?? [])
    .map(({ step }) => stepIn(scene, step))
    .filter((step) => !open.includes(step))
    .flatMap((step) => (step?.action.kind === 'confirm' ? [step.action.evidence] : []));
  const lots = Math.max(0, ...read.map((evidence) => lotsLeft(scene, evidence)));
  return lots === 0 ? '' : `, ${lots === 1 ? '1 lot' : `${lots} lots`} not named`;
}

/** What pressing a list records: how many of how many lines. */
function listNames(scene: Scene, offer: Offer): readonly string[] {
  const of = (offer.lines ?? []).length;
  const open = openLines(scene, offer).length;
  const lots = open === 0 ? lotsOfList(scene, offer) : '';
  return namesFor(scene, offer).map((name) => `${name}, ${of - open} of ${of}${lots}`);
}

/** "5 stay due, 2 lots not named". */
function dueName(scene: Scene, offer: Offer): string | null {
  const [first, ...more] = openLines(scene, offer).map((step) => step?.title ?? '');
  if (first === undefined) return null;
  const left = more.length === 0 ? `stays due: ${first}` : `${more.length + 1} stay due`;
  return `${left}${lotsOfList(scene, offer)}`;
}

/** A step that asks for a reading or an answer says so, until something stands in its field. */
function barNames(scene: Scene, offer: Offer | undefined): readonly string[] {
  if (offer === undefined) return [];
  if (offer.kind === 'list') return listNames(scene, offer);
  const step = stepIn(scene, offer.step);
  const asked = step?.action.kind === 'confirm' ? (step.action.evidence?.kind ?? '') : '';
  const isMissing = ENTRIES.includes(asked) && scene.running.typed !== offer.step;
  if (isMissing) return [`${step?.title}: not entered`];
  const n = step?.action.kind === 'confirm' ? lotsLeft(scene, step.action.evidence) : 0;
  const lots = n === 1 ? '1 lot' : `${n} lots`;
  return namesFor(scene, offer).map((name) => (n === 0 ? name : `${name}, ${lots} not named`));
}

/** What may be answered at once: to start the portion again that is told of, a way back, or a press. */
export function answersTo(scene: Scene): readonly string[] {
  const { plain, drawn, running } = scene;
  const told = allOf(drawn, 'chair-at-once').map(textOf).join(' ');
  const { protocol, subjects } = layoutOf(plain.log.state);
  const portions = subjects.order.mix
    .map((mix) => nameOf(mix, plain))
    .filter((name) => told.includes(`${name} `) || told.startsWith('The light failed.'));
  return [
    ...portions.map((name) => `Start ${name} again`),
    ...protocol.waysBack.map(({ title }) => title),
    ...running.view.offers.flatMap((offer) => namesFor(scene, offer)),
  ];
}

const presses: Check = {
  name: 'what a press is called: which coat, pass or spot it is, of how many, on what',
  entries: [
    'surface.',
    'atOnce.again',
    'offer.notEntered',
    'offer.lotsNotNamed',
    'offer.begin',
    'offer.done',
    'offer.coat',
    'offer.coats',
    'offer.pass',
    'offer.allPasses',
    'offer.noPasses',
    'offer.lightOn',
    'offer.lightTo',
    'offer.lightOff',
    'offer.lightOffTooth',
    'offer.listed',
    'offer.stayDue',
    'offer.stayDueAndLots',
    'offer.alsoSays',
    'offer.close',
  ],
  complaints: (scene) => {
    const { offers, attention } = scene.running.view;
    if (offers.length === 0) return [];
    const bar = textAt(scene.drawn, 'lw-bar-words') ?? '';
    const next = textAt(scene.drawn, 'lw-next-words');
    const buttons = allOf(scene.drawn, 'chair-alternatives')
      .filter((each) => !/at-hand|at-once/.test(each.attributes['class'] ?? ''))
      .flatMap((each) => textsOf(each, 'lw-button'));
    const first = attention.inHand ?? undefined;
    const ofBar = attention.asked === null ? barNames(scene, first) : answersTo(scene);
    const all = new Set(offers.flatMap((offer) => namesFor(scene, offer)));
    // A question that comes next is named by its step; its answers stand on the chair once it is here.
    const questions = offers.filter(({ kind }) => kind === 'choose');
    for (const { step, subjects } of questions) {
      const title = stepIn(scene, step)?.title ?? step;
      all.add(title).add(`${title} ${namesOf(subjects, scene.plain)}`);
    }
    const asked = evidenceOptions(scene);
    return [
      ...(ofBar.includes(bar) ? [] : [`bar “${bar}”, by the log: ${ofBar.join(' | ')}`]),
      ...dueComplaints(scene, first),
      ...(attention.asked === null ? impliedComplaints(scene, first) : []),
      ...(next === null || /^Light (pass on|on again)/.test(next) || all.has(next)
        ? []
        : [`next “${next}”`]),
      ...buttons.filter((each) => !all.has(each) && !asked.includes(each)),
    ];
  },
};

/** What a press says of earlier steps: each is one that was neither begun nor skipped. */
function impliedComplaints(scene: Scene, first: Offer | undefined): readonly string[] {
  const told = textAt(scene.drawn, 'chair-implied');
  if (told === null) return [];
  const implies = first?.implies ?? [];
  const begun = implies.filter(({ step, subjects }) =>
    subjects.some((subject) => scene.plain.runs.get(`${step}@${subject}`)?.endedAt != null),
  );
  const said = implies.map(({ step, subjects }) => {
    const more = { id: '', kind: 'confirm', dueInMs: 0, slackMs: null, boundBy: null } as const;
    return templatesOf(scene, { ...more, step, subjects });
  });
  const items = told.replace(/^Also says: /, '').split('; ');
  const isTrue =
    begun.length === 0 &&
    said.length > 0 &&
    told.startsWith('Also says: ') &&
    said.every((names) => names.some((name) => items.includes(name)));
  return isTrue ? [] : [`implied “${told}”`];
}

function dueComplaints(scene: Scene, first: Offer | undefined): readonly string[] {
  if (first?.kind !== 'list') return [];
  const due = dueName(scene, first);
  const told = textAt(scene.drawn, 'lw-bar-sub') ?? '';
  return due === null || told === due ? [] : [`bar “${told}”, by the log: ${due}`];
}

/** Answers that a step asks for; their words are the protocol's. */
function evidenceOptions(scene: Scene): readonly string[] {
  const action = stepIn(scene, scene.running.view.offers[0]?.step ?? '')?.action;
  const evidence = action?.kind === 'confirm' ? action.evidence : undefined;
  return evidence?.kind === 'choice' ? evidence.options.map(({ label }) => label) : [];
}

const KINDS_WITH_END = ['end', 'confirm'];

function holdsInto(scene: Scene, instance: Instance, offer: Offer): readonly Limit[] {
  const { layout } = { layout: layoutOf(scene.plain.log.state) };
  const edges =
    offer.kind === 'confirm' ? ['start', 'end'] : offer.kind === 'end' ? ['end'] : ['start'];
  return scene.limits.filter((l) => {
    const window = layout.protocol.windows.find(({ id }) => id === l.of);
    return (
      l.to === instance.key &&
      l.minMs !== null &&
      window !== undefined &&
      edges.includes(window.to.edge)
    );
  });
}

/** How long a press should still wait, by the log. In ms. */
function waitMs(scene: Scene, offer: Offer): number {
  const { plain, limits, now } = scene;
  const layout = layoutOf(plain.log.state);
  const own = offer.subjects.flatMap((s) => layout.byKey.get(`${offer.step}@${s}`) ?? []);
  const waits = own.flatMap((instance): number[] => {
    const run = plain.runs.get(instance.key);
    const { action } = instance.step;
    const held = holdsInto(scene, instance, offer).map((l) => (l.minMs ?? 0) - l.elapsed.loMs);
    if (offer.kind === 'end' && run?.startedAt && action.kind === 'dwell') {
      const { spread, ...placed } = run.startedAt;
      const passed = elapsed(placed, now);
      // A sweep that still goes on is waited for as well.
      const loMs = passed.loMs - (spread?.toMs ?? 0);
      const hiMs = passed.hiMs - (spread?.fromMs ?? 0);
      const toLimit =
        action.maxMs === undefined ? Number.POSITIVE_INFINITY : action.maxMs.value - hiMs;
      return [...held, Math.min(action.targetMs.value - loMs, toLimit)];
    }
    if (offer.kind === 'coat' && run !== undefined && run.coats.length > 0) {
      const last = run.coats.at(-1);
      const gapMs = action.kind === 'coats' ? (action.gapMsMin?.value ?? 0) : 0;
      return last === undefined ? [] : [gapMs - elapsed(last, now).loMs];
    }
    if (offer.kind === 'light-on') {
      const last = lastLight(plain, instance.subject);
      return last === null ? [] : [restMs(layout, instance) - elapsed(last, now).loMs];
    }
    return KINDS_WITH_END.includes(offer.kind) || run === undefined || run.coats.length === 0
      ? held
      : [];
  });
  if (offer.kind === 'light-off' || offer.kind === 'light-move') {
    const lit = limits.find((l) => l.kind === 'light');
    if (lit?.targetMs != null) waits.push(lit.targetMs - lit.elapsed.loMs);
  }
  return Math.max(0, ...waits);
}

/** Limits that a press would end. */
function limitsOf(scene: Scene, offer: Offer): readonly Limit[] {
  const keys = offer.subjects.map((s) => `${offer.step}@${s}`);
  return scene.limits.filter((l) => l.maxMs !== null && keys.includes(l.to));
}

const roomMs = (l: Limit): number => (l.maxMs ?? Number.POSITIVE_INFINITY) - l.elapsed.hiMs;

/** How far over, between the least and the most that it may be. */
function overOf({ elapsed: { loMs, hiMs }, maxMs }: Limit): string {
  const least = spelled(up(loMs - (maxMs ?? 0)));
  if (!Number.isFinite(hiMs)) return `at least ${least}`;
  const most = spelled(up(hiMs - (maxMs ?? 0)));
  return least === most ? least : `${least} to ${most}`;
}

function isWhenTrue(scene: Scene, offer: Offer, when: string): boolean {
  const wait = waitMs(scene, offer);
  if (when.startsWith('due in ')) return wait > 0 && when === `due in ${soon(wait)}`;
  if (wait > 0) return false;
  const own = limitsOf(scene, offer);
  const least = Math.min(...own.map(roomMs));
  const worst = own.filter((l) => roomMs(l) === least);
  const isSure = worst.every((l) => l.elapsed.loMs > (l.maxMs ?? 0));
  if (when === 'perhaps over') return least < 0 && !isSure;
  if (when.endsWith(' over')) return isSure && worst.some((l) => when === `${overOf(l)} over`);
  if (when === 'at the limit') return least === 0;
  const left = /^(\d+) s left$/.exec(when)?.[1];
  if (left !== undefined) return up(least) === Number(left);
  // A chain of steps may leave less than the limit itself; how much is held by tests/temporal.
  const within = Number(/^within (\d+) s$/.exec(when)?.[1]);
  return within <= up(least) && offer.boundBy === null && up(offer.slackMs ?? 0) === within;
}

const whens: Check = {
  name: 'when a press is due, how long is left, how far it is over',
  entries: [
    'offer.dueIn',
    'offer.over',
    'offer.perhapsOver',
    'offer.atLimit',
    'offer.left',
    'offer.within',
    'offer.in',
  ],
  complaints: (scene) => {
    const { offers } = scene.running.view;
    const top = scene.running.view.attention.inHand ?? undefined;
    const isAsked = scene.running.view.attention.asked !== null;
    // Below a list stands what of it stays due.
    const isList = top?.kind === 'list' && openLines(scene, top).length > 0;
    const told = isAsked || isList ? null : textAt(scene.drawn, 'lw-bar-sub');
    const next = textAt(scene.drawn, 'lw-next-when');
    const waits = offers.slice(1).map((offer) => `in ${soon(waitMs(scene, offer))}`);
    const wait = top === undefined ? 0 : waitMs(scene, top);
    const own =
      top === undefined
        ? []
        : limitsOf(scene, top).map(
            (l) => `${l.of} ${roomMs(l)} [${l.elapsed.loMs} ${l.elapsed.hiMs}]`,
          );
    return [
      ...(told === null || top === undefined || isWhenTrue(scene, top, told)
        ? []
        : [
            `${top.kind} ${top.step} ${top.subjects.join(' ')} “${told}”, by the log: wait ${wait}, ${own.join(', ')}; chain ${top.slackMs} ${top.boundBy} ${process.env['DEBUG'] ? JSON.stringify(scene.limits.map((l) => [l.of, l.from, l.to, roomMs(l), l.minMs])) : ''}`,
          ]),
      ...(next === null || waits.includes(next)
        ? []
        : [`next “${next}”, by the log: ${waits.join(' | ')}`]),
    ];
  },
};

/** Who has a role now: whom it was handed to last, else the first of the case file. */
function holderOf({ plain }: Scene, role: string | undefined): string | null {
  const { people } = plain.log.state.opened.spec;
  const taken = plain.of('role-taken').filter((event) => event.role === role);
  const id = taken.at(-1)?.person ?? people.find((each) => each.role === role)?.id;
  return people.find((each) => each.id === id)?.label ?? null;
}

/** A way back that stands at the bar is named with what it is taken for. */
function wayBackHeading(
  { running, plain }: Scene,
  line: string,
  detail: string,
): readonly string[] {
  const [way] = running.view.attention.asked?.ways ?? [];
  const taken = way?.kind === 'way-back' ? way : null;
  const { waysBack } = plain.log.state.opened.protocol;
  const own = waysBack.find(({ id }) => id === taken?.wayBack.id);
  const title = own?.per === 'mix' ? 'Start again' : (own?.title ?? '');
  const name = namesOf(taken?.subjects ?? [], plain);
  const wanted = name === '' ? title : `${title} ${name}`;
  return [
    ...(line === wanted ? [] : [`“${line}”, by the log: ${wanted}`]),
    ...(detail.endsWith('Answer now') ? [] : [`“${detail}”`]),
  ];
}

const heading: Check = {
  name: 'the heading: what and on which, where in the whole, whose it is',
  entries: [
    'atOnce.againTitle',
    'chair.stepOf',
    'chair.stepsDone',
    'chair.allDone',
    'chair.noneLeft',
    'chair.closed',
    'chair.closeCase',
    'chair.duty.',
  ],
  complaints: (scene) => {
    const { plain, drawn } = scene;
    const { protocol, instances } = layoutOf(plain.log.state);
    const { inHand: top, asked } = scene.running.view.attention;
    const at = protocol.steps.findIndex(({ id }) => id === top?.step);
    const step = protocol.steps[at];
    const line = textAt(drawn, 'lw-step-line') ?? '';
    const detail = textOf(allOf(drawn, 'lw-step-detail')[0] ?? drawn);
    if (asked !== null && top === null) return wayBackHeading(scene, line, detail);
    if (step === undefined) {
      const isLeft = instances.some(
        (i) => !plain.runs.has(i.key) && !i.step.onlyIf?.length && i.step.per !== 'mix',
      );
      const isSkipped = [...plain.runs.values()].some((run) => run.isSkipped);
      const done = isSkipped ? 'No step is left' : 'All steps done';
      const wanted = plain.isClosed ? 'Case closed' : done;
      const count =
        isSkipped || protocol.steps.length === 1 ? '' : `All ${protocol.steps.length} steps`;
      const bar = textAt(drawn, 'lw-bar-words') ?? '';
      return [
        ...(line === wanted ? [] : [`“${line}”, by the log: ${wanted}`]),
        ...(isLeft && !plain.isClosed ? ['a step without a condition was never pressed'] : []),
        ...(count === '' || detail.includes(count) ? [] : [`“${detail}”, by the log: ${count}`]),
        ...(plain.isClosed || bar === 'Close the case' ? [] : [`bar “${bar}”`]),
      ];
    }
    const list =
      top?.kind === 'list' ? listsIn(scene).find(({ id }) => id === top.list) : undefined;
    const bys = new Set((top?.lines ?? []).map((each) => stepIn(scene, each.step)?.by));
    const by = list === undefined ? step.by : bys.size === 1 ? [...bys][0] : undefined;
    const subject = namesOf(top?.subjects ?? [], plain);
    const stage = protocol.stages.find(({ id }) => id === step.stage)?.title ?? '';
    const place =
      list === undefined ? `${stage}, step ${at + 1} of ${protocol.steps.length}` : stage;
    const duty = { dentist: 'Dentist', assistant: 'Assistant' }[by as 'dentist'] ?? null;
    const role = textAt(drawn, 'lw-person-role');
    const who = textAt(drawn, 'lw-person-name');
    const holder = holderOf(scene, by);
    const named = subject === '' ? step.title : `${step.title} ${subject}`;
    const wanted = list?.title ?? named;
    return [
      ...(line === wanted ? [] : [`“${line}”, by the log: ${wanted}`]),
      ...(detail.includes(place) ? [] : [`“${detail}”, by the log: ${place}`]),
      ...(role === duty ? [] : [`whose: ${role}, by the protocol: ${duty}`]),
      ...(who === holder ? [] : [`who: ${who}, by the log: ${holder}`]),
    ];
  },
};

const signing: Check = {
  name: 'who presses, and whose signature closes the case',
  entries: ['chair.presses', 'chair.handTo', 'chair.signedBy', 'chair.closeAs'],
  complaints: ({ running, plain, drawn }) => {
    const { people } = plain.log.state.opened.spec;
    const now = people.findIndex(({ id }) => id === running.by);
    const who = people[now]?.label;
    const next = people[(now + 1) % people.length]?.label;
    const chips = allOf(drawn, 'chair-ends').flatMap((each) =>
      allOf(each, 'lw-button').filter((button) => button.attributes['aria-label'] !== undefined),
    );
    const isChip = (button: Drawn) =>
      textOf(button) === `${who} presses` &&
      button.attributes['aria-label'] === `${who} presses; hand over to ${next}`;
    const told = running.view.offers.length === 0 ? textAt(drawn, 'lw-bar-sub') : null;
    const others = people.filter(({ id }) => id !== running.by).map(({ label }) => label);
    const closing = allOf(drawn, 'chair-alternatives')
      .flatMap((each) => textsOf(each, 'lw-button'))
      .filter((each) => /[Cc]lose, signed by/.test(each));
    return [
      ...chips
        .filter((each) => !isChip(each))
        .map((each) => `“${textOf(each)}”, by the case: ${who}`),
      ...(told === null || told === `signed by ${who}` ? [] : [`“${told}”, by the case: ${who}`]),
      ...closing.filter((each) => !others.some((label) => each === `Close, signed by ${label}`)),
    ];
  },
};

export const barChecks: readonly Check[] = [...[presses, whens, heading].map(butPasses), signing];

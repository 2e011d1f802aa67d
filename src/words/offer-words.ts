/** What the bar says: exactly what pressing it records. */
import { unreachable } from '../base/assert.ts';
import { namedBy } from '../engine/event-subjects.ts';
import type { CaseEvent } from '../engine/types.ts';
import type { Offer } from '../engine/view-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { allHold } from '../protocol/conditions.ts';
import { unitSubject } from '../protocol/subjects.ts';
import type { Protocol, Step } from '../protocol/types.ts';
import { offer as english } from './en/offer.ts';
import { spoken } from './language.ts';
import { type CaseNaming, type StepTexts, standsFor, stepTexts } from './step-texts.ts';
import { subjectLabel, subjectsLabel, surfaceOn, teethUnder } from './subject-words.ts';

const words = spoken('offer', english);

export function stepOf(protocol: Protocol, id: string): Step | undefined {
  return protocol.steps.find((s) => s.id === id);
}

const textsOf = (
  step: Step | undefined,
  subjects: readonly string[],
  naming: CaseNaming,
): StepTexts => (step === undefined ? {} : stepTexts(step, subjects, naming));

interface Counted {
  readonly count?: number | undefined;
  readonly of?: number | undefined;
}

/** Fills `{subject}`, `{n}`, `{of}` in the words of a protocol. */
function fill(template: string, { count, of }: Counted, subject: string): string {
  return template
    .replaceAll('{subject}', subject)
    .replaceAll('{n}', String(count ?? ''))
    .replaceAll('{of}', String(of ?? ''))
    .trim();
}

const spotOf = ({ count = 1, of = 0 }: Counted) => (of > 1 ? { at: count, of } : null);

function lightWords(offer: Offer, subject: string, spec: CaseFile): string {
  if (offer.surface === undefined) return words.lightOffTooth(subject);
  const surface = surfaceOn(offer.surface, teethUnder(offer.subjects, spec));
  const place = { subject, surface, spot: spotOf(offer) };
  switch (offer.kind) {
    case 'light-on':
      return words.lightOn(place);
    case 'light-move':
      return words.lightTo(place);
    default:
      return words.lightOff(place);
  }
}

/**
 * What ending a step is called: where the same touch puts something else on these subjects, as the
 * gel goes onto the dentine when the enamel has had its time, that is what the hands do.
 */
function endTemplate(
  step: Step | undefined,
  subjects: readonly string[],
  naming: CaseNaming,
): string | undefined {
  const { protocol, spec } = naming;
  const next = protocol.steps.find(
    (other) =>
      other.beginsWith === step?.id &&
      other.hands !== undefined &&
      subjects.every((each) => allHold(other.where, { spec, protocol }, standsFor(each, spec))),
  );
  const begun = textsOf(next, subjects, naming).words?.start;
  return begun ?? textsOf(step, subjects, naming).words?.end;
}

/** What to do, for a press of this offer; nothing where the line was written for all and this is for some. */
export function instructionOf(offer: Offer, naming: CaseNaming): string | undefined {
  return textsOf(stepOf(naming.protocol, offer.step), offer.subjects, naming).instruction;
}

function passOf(offer: Offer, subject: string, spec: CaseFile) {
  const surface =
    offer.surface === undefined ? null : surfaceOn(offer.surface, teethUnder(offer.subjects, spec));
  return { subject, surface, count: offer.places?.length ?? 0 };
}

/** What was lit, and where the same press goes on. */
function goOnWords(offer: Offer, subject: string, spec: CaseFile): string {
  const lit = subjectsLabel([...new Set(offer.confirms?.map((place) => place.subject))], spec);
  return words.passGoOn({ lit, next: passOf(offer, subject, spec), isSame: lit === subject });
}

/** The words of one offer, e.g. "Gel on 12". */
export function offerWords(offer: Offer, naming: CaseNaming): string {
  const { protocol, spec } = naming;
  const step = stepOf(protocol, offer.step);
  const subject = subjectsLabel(offer.subjects, spec);
  const title = step?.title ?? offer.step;
  const place = { title, subject };
  const texts = textsOf(step, offer.subjects, naming);
  const own = (template: string | undefined) =>
    template === undefined ? undefined : fill(template, offer, subject);
  const counted = { subject, at: offer.count ?? 0, of: offer.of ?? 0 };
  switch (offer.kind) {
    case 'start':
      return own(texts.words?.start) ?? words.begin(place);
    case 'confirm':
      return own(texts.words?.end) ?? words.done(place);
    case 'end':
      return own(endTemplate(step, offer.subjects, naming)) ?? words.done(place);
    case 'coat':
      if (offer.between !== undefined)
        return words.coats({ subject, from: counted.at - offer.between, to: counted.at });
      return own(texts.words?.start) ?? words.coat(counted);
    case 'pass':
      return own(texts.words?.start) ?? words.pass(counted);
    case 'all-passes':
      return words.allPasses({ ...place, of: counted.of });
    case 'passes-done':
      if (offer.count === 0) return words.noPasses(place);
      return own(texts.words?.end) ?? words.done(place);
    case 'choose':
      return optionLabel(step, offer.option);
    case 'light-on':
    case 'light-move':
    case 'light-off':
      return lightWords(offer, subject, naming.spec);
    case 'list':
      return listOf(naming, offer.list)?.words ?? title;
    case 'pass-begin':
      if (offer.confirms !== undefined) return goOnWords(offer, subject, spec);
      return (offer.resumes === true ? words.passOn : words.passBegin)(
        passOf(offer, subject, spec),
      );
    case 'pass-stop':
      return words.passStop;
    case 'pass-confirm':
      return (offer.places ?? []).length === 0
        ? words.passNone
        : words.passConfirm(passOf(offer, subject, spec));
    case 'close':
      return words.close;
    default:
      return unreachable(offer.kind);
  }
}

/** The list that an offer or an event is of. */
const listOf = ({ protocol }: CaseNaming, id: string | undefined) =>
  protocol.lists?.find((list) => list.id === id);

export const listTitle = ({ list }: Offer, naming: CaseNaming): string =>
  listOf(naming, list)?.title ?? '';

/** What pressing a list records, and what of it stays due; so many of its materials have no lot. */
export function listPressWords(
  offer: Offer,
  naming: CaseNaming,
  o: { readonly taken: NonNullable<Offer['implies']>; readonly lots: number },
): { readonly words: string; readonly left: string | undefined } {
  const { lines = [] } = offer;
  const { taken, lots } = o;
  const keyOf = (line: (typeof taken)[number]) => `${line.step} ${line.subjects.join(' ')}`;
  const keys = new Set(taken.map(keyOf));
  const titles = lines
    .filter((line) => !keys.has(keyOf(line)))
    .map(({ step }) => stepOf(naming.protocol, step)?.title ?? step);
  const told = words.listed({
    words: offerWords(offer, naming),
    n: taken.length,
    of: lines.length,
  });
  if (titles.length === 0) return { words: withoutLots(told, lots), left: undefined };
  const left = words.stayDue({ titles });
  return { words: told, left: lots === 0 ? left : words.stayDueAndLots({ left, n: lots }) };
}

/** Steps as the press that confirms them says it: "21 loaded". */
export function doneWords(
  done: NonNullable<Offer['implies']>,
  naming: CaseNaming,
): readonly string[] {
  return done.map(({ step, subjects }) => {
    const own = stepOf(naming.protocol, step);
    // Light that was led by tones: its step has words for beginning it only.
    if (own?.action.kind === 'expose')
      return words.done({ title: own.title, subject: subjectsLabel(subjects, naming.spec) });
    const confirmed = { type: 'step-confirmed', step, subjects, evidence: '' } as const;
    return workWords(confirmed, naming) ?? step;
  });
}

/** What the same press says of earlier steps; null where it says nothing of them. */
export function impliedWords({ implies = [] }: Offer, naming: CaseNaming): string | null {
  return implies.length === 0 ? null : words.alsoSays(doneWords(implies, naming));
}

function optionLabel(step: Step | undefined, option: string | undefined): string {
  if (step?.action.kind !== 'choose') return option ?? '';
  return step.action.options.find((o) => o.id === option)?.label ?? option ?? '';
}

/** Of whom a press skipped everything that was left; null when it did something else as well. */
function setAside(events: readonly CaseEvent[], { spec }: CaseNaming): string | null {
  const skipped = events.flatMap((e) => (e.type === 'step-skipped' ? [e.subjects] : []));
  if (skipped.length < 2 || skipped.length < events.length) return null;
  const subjects = new Set(skipped.flat());
  const unit = spec.units.find(({ id }) => subjects.has(unitSubject(id)));
  return unit === undefined ? null : words.setAside(subjectLabel(unitSubject(unit.id), spec));
}

/** What undo takes back: the words of the events of one press. */
export function pressWords(events: readonly CaseEvent[], naming: CaseNaming): string {
  const aside = setAside(events, naming);
  if (aside !== null) return aside;
  const lines = events.filter((e) => 'list' in e && e.list !== undefined);
  const [line] = lines;
  if (lines.length > 1 && line !== undefined && 'list' in line) {
    return words.linesPressed({ title: listOf(naming, line.list)?.title ?? '', n: lines.length });
  }
  // What a way back does to the plan is a part of it, as what is left is of a visit that was stopped.
  const own = events.find(({ type }) => type === 'way-back-taken' || type === 'visit-stopped');
  const told = (own === undefined ? events : [own]).flatMap((e) => eventWords(e, naming) ?? []);
  return told.at(-1) ?? begunAlone(events, naming) ?? words.lastPress;
}

/** A clock that as a rule begins with another press, and was begun by one of its own. */
function begunAlone(events: readonly CaseEvent[], { protocol, spec }: CaseNaming): string | null {
  const begun = events.find((event) => event.type === 'step-started');
  const title = begun && stepOf(protocol, begun.step)?.title;
  if (begun === undefined || title === undefined) return null;
  return words.begin({ title, subject: subjectsLabel(begun.subjects, spec) });
}

/** Whether a step asks people for a reading or an answer. */
function asksEntry(step: Step | undefined): boolean {
  if (step?.action.kind !== 'confirm') return false;
  return ['reading', 'note', 'choice'].includes(step.action.evidence?.kind ?? '');
}

/** What pressing this records while the answer that its step asks for was not given: that it was not. */
export function unanswered(offer: Offer, { protocol }: CaseNaming): string | null {
  const step = stepOf(protocol, offer.step);
  return offer.kind === 'confirm' && asksEntry(step) ? words.notEntered(step?.title ?? '') : null;
}

/** What pressing this records where materials are read of which no lot was named. */
export function withoutLots(done: string, n: number): string {
  return n === 0 ? done : words.lotsNotNamed({ done, n });
}

/** Events of the work itself: each names its step or its subjects. */
type WorkEvent = Extract<CaseEvent, { readonly step: string }> | WayBackTaken;
type WayBackTaken = Extract<CaseEvent, { readonly type: 'way-back-taken' }>;

function workWords(event: WorkEvent, naming: CaseNaming): string | null {
  const { protocol, spec } = naming;
  const named = namedBy(event);
  const step = stepOf(protocol, named.step ?? '');
  const subject = subjectsLabel(named.subjects, spec);
  const title = step?.title ?? '';
  const none: Counted = {};
  const texts = textsOf(step, named.subjects, naming);
  switch (event.type) {
    case 'step-confirmed':
      if (event.evidence === undefined && asksEntry(step)) return words.notEntered(title);
      return fill(texts.words?.end ?? title, none, subject);
    case 'step-ended':
      return fill(endTemplate(step, named.subjects, naming) ?? title, none, subject);
    case 'step-started':
      // A clock that began with another press is part of that press.
      return step?.beginsWith ? null : fill(texts.words?.start ?? title, none, subject);
    case 'coat-applied':
      return step?.title ?? null;
    case 'pass-made':
      return words.passMade({ title, subject });
    case 'exposure-started':
      return words.lightOn({
        subject,
        surface: surfaceOn(event.surface, teethUnder(named.subjects, spec)),
        spot: null,
      });
    case 'exposure-stopped':
      return words.lightOffTooth(subject);
    case 'light-pass-begun':
      return words.passBegin({ subject, surface: null, count: event.places.length });
    case 'light-pass-stopped':
      return words.passStop;
    case 'light-pass-confirmed':
      return event.places.length === 0
        ? words.passNone
        : words.passConfirm({ subject, surface: null, count: event.places.length });
    case 'option-chosen':
      return optionLabel(step, event.option);
    case 'step-skipped':
      return words.skipped({ title, subject });
    case 'way-back-taken':
      return words.wayBack(subject);
    default:
      return unreachable(event);
  }
}

function eventWords(event: CaseEvent, naming: CaseNaming): string | null {
  switch (event.type) {
    case 'press-retimed':
      return words.retimed;
    case 'anaesthesia-given':
      return words.anaesthesia;
    case 'mix-added':
      return words.mixAdded;
    case 'plan-changed':
      return words.planChanged;
    case 'bead-probed':
      return words.bead(words.beadFound[event.found]);
    case 'material-named':
      return words.material(slotLabel(event.slot, naming));
    case 'shade-tried':
      return words.shade;
    case 'gap-settled':
      return words.gapSettled;
    case 'cue-acknowledged':
      return words.seen;
    case 'numbering-changed':
      return words.numbering;
    case 'visit-stopped':
      return words.stopped;
    case 'note-added':
      return words.note;
    case 'tones-heard':
      return event.heard ? words.tones : words.noTones;
    case 'role-taken':
      return words.person(personLabel(event.person, naming));
    case 'case-closed':
      return words.closed;
    case 'case-opened':
    case 'gap-found':
    case 'emergency-noted':
    case 'press-retracted':
    case 'pen-given':
    case 'pen-taken':
      return null;
    case 'step-confirmed':
    case 'step-started':
    case 'step-ended':
    case 'coat-applied':
    case 'pass-made':
    case 'option-chosen':
    case 'exposure-started':
    case 'exposure-stopped':
    case 'light-pass-begun':
    case 'light-pass-stopped':
    case 'light-pass-confirmed':
    case 'step-skipped':
    case 'way-back-taken':
      return workWords(event, naming);
    default:
      return unreachable(event);
  }
}

const slotLabel = (slot: string, { protocol }: CaseNaming): string =>
  protocol.slots.find((s) => s.id === slot)?.label ?? slot;

const personLabel = (person: string, { spec }: CaseNaming): string =>
  spec.people.find((p) => p.id === person)?.label ?? person;

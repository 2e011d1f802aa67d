/** What the bar says: exactly what pressing it records. */
import { unreachable } from '../base/assert.ts';
import type { Offer } from '../engine/types.ts';
import type { CaseFile, Protocol, Step } from '../protocol/types.ts';
import { formatSeconds, formatWords } from './duration.ts';
import { SURFACE_WORDS, subjectsLabel } from './subject-words.ts';

export interface CaseNaming {
  readonly protocol: Protocol;
  readonly spec: CaseFile;
}

export function stepOf(protocol: Protocol, id: string): Step | undefined {
  return protocol.steps.find((s) => s.id === id);
}

/** Fills `{subject}`, `{n}`, `{of}` in the words of a protocol. */
interface Counted {
  readonly count?: number | undefined;
  readonly of?: number | undefined;
}

function fill(template: string, offer: Counted, subject: string): string {
  return template
    .replaceAll('{subject}', subject)
    .replaceAll('{n}', String(offer.count ?? ''))
    .replaceAll('{of}', String(offer.of ?? ''))
    .trim();
}

function positionWords(offer: Offer): string {
  const many = offer.of !== undefined && offer.of > 1;
  return many ? `, place ${offer.count ?? 1} of ${offer.of}` : '';
}

function lightWords(offer: Offer, subject: string): string {
  const surface = offer.surface ? SURFACE_WORDS[offer.surface] : '';
  switch (offer.kind) {
    case 'light-on':
      return `Light on ${subject}, ${surface}${positionWords(offer)}`;
    case 'light-move':
      return `Light to ${subject}, ${surface}${positionWords(offer)}`;
    default:
      return `Light off ${subject}, ${surface}`;
  }
}

/** The words of one offer, e.g. "Gel on 12". */
export function offerWords(offer: Offer, { protocol, spec }: CaseNaming): string {
  const step = stepOf(protocol, offer.step);
  const subject = subjectsLabel(offer.subjects, spec);
  const title = step?.title ?? offer.step;
  switch (offer.kind) {
    case 'start':
      return fill(step?.words?.start ?? `${title}: begin {subject}`, offer, subject);
    case 'confirm':
    case 'end':
      return fill(step?.words?.end ?? `${title}: done {subject}`, offer, subject);
    case 'coat':
      return fill(step?.words?.start ?? 'Coat {n} of {of} on {subject}', offer, subject);
    case 'pass':
      return fill(step?.words?.start ?? 'Pass {n} of {of}, {subject}', offer, subject);
    case 'all-passes':
      return `${title}: ${offer.of ?? 0} passes, ${subject}`;
    case 'passes-done':
      if (offer.count === 0) return `${title}: none needed, ${subject}`;
      return fill(step?.words?.end ?? `${title}: done {subject}`, offer, subject);
    case 'choose':
      return optionLabel(step, offer.option);
    case 'light-on':
    case 'light-move':
    case 'light-off':
      return lightWords(offer, subject);
    case 'close':
      return 'Close the case';
    default:
      return unreachable(offer.kind);
  }
}

function optionLabel(step: Step | undefined, option: string | undefined): string {
  if (step?.action.kind !== 'choose') return option ?? '';
  return step.action.options.find((o) => o.id === option)?.label ?? option ?? '';
}

const SOON_MS = 90_000;

/** When an offer is wanted: "8 s early", "now", "10 s left". */
export function offerWhen(offer: Offer): string | undefined {
  if (offer.dueInMs > 0) {
    const span = offer.dueInMs < SOON_MS ? formatSeconds : formatWords;
    return `${span(offer.dueInMs, 'up')} early`;
  }
  if (offer.slackMs === null) return undefined;
  if (offer.slackMs < 0) return `${formatWords(-offer.slackMs)} over`;
  return offer.slackMs < SOON_MS ? `${formatSeconds(offer.slackMs)} left` : undefined;
}

/** The same for a line that looks ahead: "in 8 s". */
export function offerIn(offer: Offer): string | undefined {
  if (offer.dueInMs <= 0) return undefined;
  const span = offer.dueInMs < SOON_MS ? formatSeconds : formatWords;
  return `in ${span(offer.dueInMs, 'up')}`;
}

/** What undo takes back: the words of the events of one press. */
export function pressWords(
  events: readonly { readonly type: string }[],
  naming: CaseNaming,
): string {
  const words = events.flatMap((event) => eventWords(event as PressedEvent, naming) ?? []);
  return words.at(-1) ?? 'the last press';
}

type PressedEvent = {
  readonly type: string;
  readonly step?: string;
  readonly subjects?: readonly string[];
  readonly subject?: string;
  readonly surface?: keyof typeof SURFACE_WORDS;
  readonly option?: string;
};

function eventWords(event: PressedEvent, { protocol, spec }: CaseNaming): string | null {
  const step = stepOf(protocol, event.step ?? '');
  const subjects = event.subjects ?? (event.subject ? [event.subject] : []);
  const subject = subjectsLabel(subjects, spec);
  const none: Counted = {};
  switch (event.type) {
    case 'step-confirmed':
    case 'step-ended':
      return fill(step?.words?.end ?? step?.title ?? '', none, subject);
    case 'step-started':
      // A clock that began with another press is part of that press.
      return step?.beginsWith ? null : fill(step?.words?.start ?? step?.title ?? '', none, subject);
    case 'coat-applied':
      return step?.title ?? null;
    case 'pass-made':
      return `${step?.title ?? ''} ${subject}`;
    case 'exposure-started':
      return `Light on ${subject}, ${event.surface ? SURFACE_WORDS[event.surface] : ''}`;
    case 'exposure-stopped':
      return `Light off ${subject}`;
    case 'option-chosen':
      return optionLabel(step, event.option);
    case 'step-skipped':
      return `Skipped: ${step?.title ?? ''}`;
    case 'way-back-taken':
      return 'Way back';
    case 'press-retimed':
      return 'Moved in time';
    default:
      return null;
  }
}

/**
 * Timed steps, exposures and windows as FHIR R4 Observations: time in seconds, with what was asked,
 * by how much it differed, and whether the clocks knew it exactly. The names of the components are
 * what a reader finds them by: they are the same in every language.
 */
import { exportWords } from '../words/export-words.ts';
import { fhirWords } from '../words/fhir-words.ts';
import { tabletWords } from '../words/pen-record-words.ts';
import { lengthWords, subjectWords, tellingWith } from './export-words.ts';
import {
  chart,
  ENCOUNTER,
  elapsedQuantity,
  type FhirObject,
  type FhirScene,
  metaOf,
  narrative,
  period,
  person,
  reference,
  secondsQuantity,
  secondsRange,
  surfaceCoding,
  toothSite,
} from './fhir-parts.ts';
import { howWords } from './pressed-words.ts';
import type { SecondEndFact } from './record-tablets-types.ts';
import type { ExposureFact, LengthFact, StepFact, VoidedFact, WindowFact } from './record-types.ts';
import { pressedBy } from './record-who.ts';

/** What an Observation hangs on. */
interface ObservationLinks {
  readonly id: string;
  /** The Procedure it is part of. */
  readonly partOf: FhirObject;
  /** The light, for exposures. */
  readonly device: FhirObject | null;
}

const component = (words: string, value: FhirObject): FhirObject => ({
  code: { text: words },
  ...value,
});

const secondsComponent = (words: string, ms: number | null): FhirObject =>
  ms === null ? {} : component(words, { valueQuantity: secondsQuantity(ms) });

function rangeComponent(words: string, lowMs: number | null, highMs: number | null): FhirObject {
  if (lowMs === null && highMs === null) return {};
  return component(words, { valueRange: secondsRange({ lowMs, highMs }) });
}

/** Actual length as an interval, and whether it is one. */
function actualComponents({ loMs, hiMs }: LengthFact): FhirObject[] {
  const isExact = loMs === hiMs;
  return [
    rangeComponent('actual', loMs, hiMs),
    component('quality', { valueString: isExact ? 'GOOD' : 'RANGE' }),
  ];
}

const CATEGORY = {
  coding: [
    {
      system: 'http://terminology.hl7.org/CodeSystem/observation-category',
      code: 'procedure',
      display: 'Procedure',
    },
  ],
};

/** One tooth is a code; several share one place for words only. */
function bodySite(teeth: readonly string[]): FhirObject {
  const [first, ...others] = teeth;
  if (first === undefined) return {};
  return others.length === 0 ? toothSite(first) : { text: fhirWords.teeth(teeth) };
}

function base(scene: FhirScene, links: ObservationLinks): FhirObject {
  return {
    resourceType: 'Observation',
    id: links.id,
    meta: metaOf(scene.facts),
    partOf: [links.partOf],
    category: [CATEGORY],
    subject: chart(scene),
    encounter: reference(scene.idOf(ENCOUNTER), 'Encounter'),
    device: links.device,
  };
}

function titled(title: string, subjectId: string): string {
  const subject = subjectWords(subjectId);
  return subject === '' ? title : fhirWords.titled({ title, subject });
}

/** Final, or amended when a press was moved afterwards. */
function stepStatus(step: StepFact): string {
  if (step.status === 'running') return 'preliminary';
  const moved = [step.start, step.end].some((edge) => (edge?.pressed?.movedByMs ?? 0) !== 0);
  return moved ? 'amended' : 'final';
}

/** How it is known that it was done, where no press was for it alone: a code, and how in words. */
function pressedComponent(step: StepFact): FhirObject {
  const how = howWords(step, tellingWith({ usual: '' }));
  if (step.pressed === null || how === null) return {};
  return component(`pressed: ${step.pressed.kind}`, { valueString: how });
}

function stepNotes(step: StepFact | VoidedFact): string[] {
  const people = pressedBy(step);
  const pressed = people.length > 0 ? [exportWords.pressedBy(people.join(', '))] : [];
  const notes = [
    ...(step.status === 'skipped' ? [fhirWords.skipped(step.reason ?? '')] : []),
    ...('voidedBecause' in step ? [fhirWords.voided(step.voidedBecause)] : []),
  ];
  // Who pressed ends the last note, so that other programs find as many notes as before.
  return [...notes.slice(0, -1), ...[[...notes.slice(-1), ...pressed].join('; ')].filter(Boolean)];
}

/**
 * Whoever did it. Where that is not known, who pressed: in FHIR R4 the performer is who is responsible for
 * asserting the value (HL7 FHIR 4.0.1, Observation.performer), and the note says that they pressed.
 */
function performerOf(scene: FhirScene, step: StepFact): FhirObject[] | null {
  const { doneBy } = step;
  const display =
    doneBy === null ? pressedBy(step)[0] : (doneBy.label ?? exportWords.roles[doneBy.role]);
  if (display === undefined) return null;
  // A label that two of the people have names neither of them.
  const named = scene.facts.people.filter(({ label }) => label === display);
  const [only, ...others] = named;
  const isOne = only !== undefined && others.length === 0;
  return [{ ...(isOne ? person(scene, only) : { type: 'Practitioner' }), display }];
}

function surfaceComponents(step: StepFact): FhirObject[] {
  const tooth = step.teeth[0] ?? '';
  return step.surfaces.flatMap(({ surface, givenMs, setMs }) => {
    const coding = [surfaceCoding(surface, tooth)];
    const told = (words: string, ms: number): FhirObject => ({
      code: { coding, text: `${words}, ${surface} surface` },
      valueQuantity: secondsQuantity(ms),
    });
    return [told('exposure given', givenMs), told('exposure set', setMs)];
  });
}

/** Exposure given over all surfaces; time elapsed for anything else that is timed. */
function measured(step: StepFact): LengthFact | null {
  if (step.action !== 'expose') return step.status === 'skipped' ? null : step.elapsed;
  const sum = (pick: (given: ExposureFact['given']) => number): number =>
    step.exposures.reduce((ms, e) => ms + pick(e.given), 0);
  return { loMs: sum((g) => g.loMs), hiMs: sum((g) => g.hiMs) };
}

/** Steps that people time: dwells and exposures. */
export const isTimed = (step: StepFact): boolean =>
  step.action === 'dwell' || step.action === 'expose';

function toldWords(step: StepFact, took: LengthFact | null): string {
  const title = titled(step.title, step.subject);
  if (took === null) return fhirWords.noTime(title);
  const told = { title, length: lengthWords(took) };
  return step.action === 'expose' ? fhirWords.given(told) : fhirWords.elapsed(told);
}

export function stepObservation(
  scene: FhirScene,
  step: StepFact | VoidedFact,
  links: ObservationLinks,
): FhirObject {
  const { asked } = step;
  const took = measured(step);
  const notes = stepNotes(step);
  return {
    ...base(scene, links),
    text: narrative([toldWords(step, took), ...notes]),
    status: stepStatus(step),
    code: { text: step.title },
    effectivePeriod: period(step.start?.at, step.end?.at),
    performer: performerOf(scene, step),
    valueQuantity: took === null ? null : elapsedQuantity(took),
    dataAbsentReason: took === null ? { text: fhirWords.notTimed } : null,
    bodySite: bodySite(step.teeth),
    component: [
      rangeComponent('planned', asked.minMs, asked.maxMs),
      secondsComponent('target', asked.targetMs),
      ...(took === null ? [] : actualComponents(took)),
      secondsComponent(
        step.shortPerhaps ? 'possible shortfall' : 'shortfall',
        step.shortByMs === 0 ? null : step.shortByMs,
      ),
      secondsComponent(
        step.overPerhaps ? 'possible overtime' : 'overtime',
        step.overByMs === 0 ? null : step.overByMs,
      ),
      secondsComponent(
        step.betweenPerhaps ? 'possible shortfall of the rest' : 'shortfall of the rest',
        step.betweenShortByMs === 0 ? null : step.betweenShortByMs,
      ),
      pressedComponent(step),
      ...surfaceComponents(step),
    ],
    note: notes.map((text) => ({ text })),
  };
}

/** A window that was closed, with its margins; a negative margin is outside. */
export function windowObservation(
  scene: FhirScene,
  window: WindowFact,
  links: ObservationLinks,
): FhirObject {
  const took = window.elapsed ?? { loMs: 0, hiMs: 0 };
  const title = titled(window.title, window.subject);
  return {
    ...base(scene, links),
    text: narrative([fhirWords.window({ title, length: lengthWords(took), state: window.state })]),
    status: 'final',
    code: { text: window.title },
    effectivePeriod: period(window.opened, window.closed ?? undefined),
    valueQuantity: elapsedQuantity(took),
    bodySite: bodySite(window.teeth),
    component: [
      rangeComponent('planned', window.minMs, window.judgedMaxMs),
      ...actualComponents(took),
      secondsComponent('margin over the minimum', window.marginOverMinMs),
      secondsComponent('margin to the maximum', window.marginToMaxMs),
      component('state', { valueString: window.state }),
    ],
  };
}

/** What another tablet pressed in the place of entries of this record: how much, on which tablet, since when. */
export function secondEndObservation(
  scene: FhirScene,
  end: SecondEndFact,
  links: ObservationLinks,
): FhirObject {
  const { tablet, name, entries, presses, common, since, standing } = end;
  const words = fhirWords.secondEnd({ name: tabletWords(end), entries });
  return {
    ...base(scene, links),
    text: narrative([words]),
    status: 'final',
    code: { text: 'second end' },
    effectiveDateTime: since.pressedUtc,
    valueString: words,
    component: [
      component('entries', { valueInteger: entries }),
      component('presses', { valueInteger: presses }),
      component('entries in common', { valueInteger: common }),
      component('tablet', { valueString: tablet }),
      name === null ? {} : component('tablet name', { valueString: name }),
      component('standing', { valueString: standing }),
    ],
  };
}

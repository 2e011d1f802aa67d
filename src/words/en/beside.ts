/** What runs beside the steps: anaesthesia, pauses of the patient, and what was counted in and out. */
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

interface Counted {
  readonly title: string;
  /** "2", or "not noted". */
  readonly in: string;
  readonly out: string;
}

export const beside = {
  title: 'Anaesthesia',
  note: 'Note an injection',
  noteAgain: 'Note a top-up',
  nothing: 'Nothing injected yet.',
  shadeFirst: 'Take the shade before the injection.',
  agent: 'Agent',
  technique: 'Technique',
  techniques: {
    'upper-infiltration': 'Upper infiltration',
    'lower-block': 'Lower block',
    'lower-molar-infiltration': 'Lower infiltration, molar',
    'lower-premolar-infiltration': 'Lower infiltration, premolar',
  } as Readonly<Record<string, string>>,
  agents: {
    'lidocaine-100': 'Lidocaine 2 %, adrenaline 1:100 000',
    'articaine-200': 'Articaine 4 %, adrenaline 1:200 000',
    'articaine-100': 'Articaine 4 %, adrenaline 1:100 000',
    'mepivacaine-plain': 'Mepivacaine 3 %, plain',
    bupivacaine: 'Bupivacaine, adrenaline',
  } as Readonly<Record<string, string>>,
  givenAs: (o: { readonly agent: string; readonly technique: string }): string =>
    `${o.agent}, ${o.technique}`,
  stepOf: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? o.title : `${o.title}, ${o.subject}`,
  given: (o: {
    readonly agent: string;
    readonly technique: string;
    readonly teeth: readonly string[];
  }): string => `${o.agent}, ${o.technique}, for ${list(o.teeth)}`,
  givenMl: (o: { readonly given: string; readonly ml: number }): string => `${o.given}, ${o.ml} mL`,
  teeth: 'Teeth it is for',
  ml: 'mL, if you note it',
  mlBad: 'A number from 0 to 100',
  give: 'Injected now',
  noDose: 'No dose is computed here. A numb lip does not prove a numb pulp.',
  none: 'None',
  details: (parts: readonly string[]): string => parts.join('; '),
  underMinute: 'under 1 min',
  orMore: (lo: string): string => `${lo} or more`,
  fromTo: (o: { readonly lo: string; readonly hi: string }): string => `${o.lo} to ${o.hi}`,
  elapsed: (o: { readonly what: string; readonly span: string }): string =>
    `${o.what}: ${o.span} elapsed`,
  forTeeth: (o: { readonly technique: string; readonly teeth: string }): string =>
    `${o.technique}, ${o.teeth}`,
  pulp: (span: string): string => `pulp about ${span}`,
  pulpFalls: 'pulp: falls early',
  pulpUnknown: 'pulp: no figure published',
  soft: (o: { readonly lo: string; readonly hi: string }): string => `lip ${o.lo} to ${o.hi}`,
  softTo: (hi: string): string => `lip up to ${hi}`,
  softUnknown: 'lip: no figure published',
  ending: (o: { readonly at: string; readonly steps: readonly string[] }): string =>
    `${o.at} have passed since the injection. Still to come: ${list(o.steps)}. Ask, test, top up if needed.`,
  toCome: (steps: readonly string[]): string => `still to come: ${list(steps)}`,
  endLip: (at: string): string => `Lip numb until about ${at}: do not bite it.`,
  endLipUnknown: 'Lip still numb: do not bite it.',
  govern: 'Averages of small published studies. What the patient says governs.',

  holdRuns: (until: string): string => `The hold runs until ${until}`,
  holdLeaves: (steps: readonly string[]): string => `Left until then: ${list(steps)}.`,
  holdProtects: (until: string): string => `Not before ${until}`,
  holdAsks: (hold: string): string => `${hold}. Going on now needs a reason.`,
  visitStays: 'The finishing visit that was prepared stays prepared',
  contactsStay: (until: string): string => `Contacts stay closed until ${until}`,

  rest: 'Rest for the patient',
  restNow: 'The patient may rest now, 5 min.',
  rinseNow: 'The patient may rest or rinse now, 5 min.',
  restNext: (o: { readonly before: string; readonly span: string }): string =>
    `Next rest: before “${o.before}”, ${o.span}.`,
  rinseNext: (o: { readonly before: string; readonly span: string }): string =>
    `Next rest or rinse: before “${o.before}”, ${o.span}.`,
  inAbout: (span: string): string => `in about ${span}`,
  inUnderMinute: 'in less than a minute',
  restThenRinse: (o: { readonly rest: string; readonly rinse: string }): string =>
    `${o.rest} ${o.rinse}`,
  noRest: 'No rest of 5 min is left in this plan.',

  counts: 'Counted in and out',
  notCounted: 'not noted',
  inSince: (o: Counted & { readonly span: string }): string =>
    `${o.title}: ${o.in} in, for ${o.span}`,
  even: (o: Counted): string => `${o.title}: ${o.in} in, ${o.out} out`,
  uneven: (o: Counted): string =>
    `${o.title}: ${o.in} in, ${o.out} out. Look for it before you sign.`,
  unevenSigned: (o: Counted): string => `${o.title}: ${o.in} in, ${o.out} out. The numbers differ.`,
  inUnknown: (o: { readonly title: string; readonly span: string }): string =>
    `${o.title}: no number noted, ${o.span} ago. How many are in?`,
  unknown: (o: Counted): string =>
    `${o.title}: in ${o.in}, out ${o.out}. Look whether any is left before you sign.`,
  unknownSigned: (o: Counted): string => `${o.title}: in ${o.in}, out ${o.out}.`,

  planned: {
    title: 'Anaesthesia and rests',
    given: (o: { readonly what: string; readonly at: string }): string =>
      `${o.what}: planned ${o.at} from the start, so that it has set in before the first step that may hurt.`,
    ends: (o: { readonly at: string; readonly warn: string }): string =>
      `By the published figure the pulp wakes about ${o.at} from the start; warned from ${o.warn}.`,
    noEnd: 'No figure is published of how long the pulp stays numb.',
    lasts: 'All steps that may hurt are planned before that.',
    late: (steps: readonly string[]): string =>
      `After the warning, minutes from the start: ${list(steps)}. A top-up is likely.`,
    lateStep: (o: { readonly step: string; readonly at: string }): string => `${o.step} (${o.at})`,
    rests: 'A rest of 5 min breaks no limit:',
    before: (o: { readonly work: string; readonly at: string }): string =>
      `${o.at}, before “${o.work}”`,
    fromTo: (o: { readonly from: string; readonly to: string }): string => `${o.from}; to ${o.to}`,
    rinseToo: (when: string): string => `${when}; rinse too`,
    noRests: 'Any rest of 5 min would break a limit.',
  },
};

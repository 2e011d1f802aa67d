/**
 * Words of the emergency cards. Each card names its source; where there is none it says so. A time is
 * told as elapsed, never as long enough.
 */
import type { EmergencyCardId } from '../../engine/aside-types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

interface Card {
  readonly title: string;
  readonly lines: Readonly<Record<string, string>>;
  /** Why it matters, where a figure tells it. */
  readonly why?: string;
  readonly source: string;
}

const HF_SOURCE =
  'University procedures (one of them rinses for 15 min always); Zdrav Vestn 2010; Maced J Med Sci 2018;6:2257.';

export const emergency = {
  place: 'Emergency',
  choose: 'What has happened?',
  cards: {
    choking: {
      title: 'Choking',
      lines: {
        cough: 'Coughing well: let the patient cough.',
        blows: 'Cough not effective: lean forward, up to 5 back blows.',
        thrusts: 'Then up to 5 abdominal thrusts. Go on in turn, 5 and 5.',
        unresponsive: 'Unresponsive: emergency call and CPR.',
      },
      source: 'Resuscitation Council UK.',
    },
    'unit-in-mouth': {
      title: 'Unit lost, seen in the mouth',
      lines: {
        stop: 'Everybody stops. The patient stays lying back and does not sit up.',
        head: 'Turn the head to one side.',
        'take-out': 'Take the unit out with forceps or suction.',
        gone: 'Out of sight: go to “Choking” or “Unit not found” below.',
      },
      source: 'Common practice, no source.',
    },
    'unit-not-found': {
      title: 'Unit not found, patient well',
      lines: {
        assume: 'Count it as inhaled until it is shown to be elsewhere.',
        search: 'Look for it: count the units, look in the suction trap.',
        hospital:
          'Not found: to hospital today for X-rays, not alone, however well the patient feels.',
      },
      why: 'All of the inhaled pieces and about a third of the swallowed ones needed treatment in hospital.',
      source:
        'Gen Dent 2008;56:691; Head Face Med 2016;12:23 (617 cases); J Am Dent Assoc 2014;145:459.',
    },
    'allergic-reaction': {
      title: 'Allergic reaction',
      lines: {
        stop: 'Stop.',
        remove: 'Take the cause away.',
        emergency: 'Airway, breathing or circulation affected: emergency call.',
        lie: 'Lie flat; sit up if breathing is hard. No standing, no walking.',
        count: 'Every 5 min: look again, by the clinic’s own protocol.',
      },
      source: 'Resuscitation Council UK 2021.',
    },
    unwell: {
      title: 'Patient unwell',
      lines: {},
      source: 'The clinic’s own protocol. This card adds no step to it.',
    },
    'hydrofluoric-skin': {
      title: 'Hydrofluoric acid on skin',
      lines: {
        rinse: 'Rinse with water at once: 5 min if the gel is at hand, otherwise at least 15 min.',
        bare: 'Jewellery off. Gloves on, not latex.',
        gel: 'Massage in calcium gluconate gel. New gel every 15 min until the pain stops and medical care takes over.',
        hospital: 'To hospital in every case. Pain may begin 8 to 24 h later.',
      },
      source: HF_SOURCE,
    },
    'hydrofluoric-eye': {
      title: 'Hydrofluoric acid in an eye',
      lines: {
        rinse: 'Rinse with water at once, lids held open, the other eye covered: at least 15 min.',
        ambulance: 'Call an ambulance.',
        'no-gel': 'No gel in the eye.',
      },
      source: `${HF_SOURCE} No gel in the eye: from memory.`,
    },
    'acid-eye': {
      title: 'Other acid or abrasive in an eye',
      lines: {
        rinse: 'Rinse with water at once, lids held open: at least 15 min.',
        'no-rubbing': 'No rubbing.',
        doctor: 'Poison centre or eye doctor.',
      },
      source: 'Safety data sheets (H314). Abrasive: common practice, no source.',
    },
    'acid-skin': {
      title: 'Acid on skin or gum',
      lines: {
        rinse: 'Rinse at once, with suction: 15 to 30 s.',
        look: 'Look at the place. Hydrofluoric acid has a card of its own below.',
        write: 'Write down where, and for how long.',
      },
      source: 'Common practice, no source.',
    },
    'light-eye': {
      title: 'Blue light in an eye',
      lines: {
        stop: 'Stop the light.',
        write: 'Write down the seconds, the distance and the lamp.',
        clinic: 'Blurred sight, or a spot that stays: eye clinic today.',
      },
      source: 'Common practice; no source for first aid was found.',
    },
  } satisfies Record<EmergencyCardId, Card>,
  sourceOf: (source: string): string => `Source: ${source}`,
  number: 'Emergency number',
  noNumber: 'No emergency number is set.',
  noNumberTodo: 'Set it under Clinic. Call your country’s emergency number now.',
  protocol: 'The clinic’s own protocol',
  noProtocol: 'The clinic has not entered its own protocol. Set it under Clinic.',
  poison: (number: string): string => `Poison centre ${number}`,
  called: 'Called',
  sinceTap: 'since the tap on this card',
  elapsed: (span: string): string => `${span} elapsed`,
  named: (spans: readonly string[]): string => `Named time: ${spans.join(' or ')}`,
  namedPassed: (span: string): string => `${span} have passed`,
  every: (span: string): string => `Repeats every ${span}`,
  rounds: (count: number): string =>
    plural(count, { one: 'noted once', other: `noted ${count} times` }),
  dueAgain: (span: string): string => `${span} have passed: due again`,
  starts: 'Starts now',
  doneNow: 'Done now',
  again: 'Done again now',
  done: 'Done',
  doneAt: (at: string): string => `Done ${at} after the tap`,
  back: 'Back, the clock runs on',
  backPlain: 'Back',
  calledAgo: (span: string): string => `Called ${span} ago`,
  pressName: (o: { readonly press: string; readonly line: string }): string =>
    `${o.press}: ${o.line}`,
  end: 'End this card',
  others: 'Other cards',
  isOpen: (span: string): string => `open, ${span}`,
  caseClocks: 'Clocks of the case, still running',
  byWall: 'The app was opened again meanwhile: counted by the time of day of this tablet.',
  recorded: 'Noted in the record of the running case.',
  notRecorded: 'No case runs here, so nothing of this card goes into a record. Write it down.',
  govern: 'Your training and the clinic’s own protocol govern.',
  setting: {
    title: 'Emergencies',
    lede: 'Shown at the head of every emergency card of this tablet.',
    number: 'Emergency number',
    numberHint: 'As it is dialled from the clinic’s telephone.',
    protocol: 'The clinic’s own protocol',
    protocolHint: 'A few lines: who calls, who fetches what, where it is kept.',
    poison: 'Poison centre',
    poisonHint: 'You can leave it empty.',
    missing: 'No emergency number is set on this tablet yet.',
    missingTodo: 'It stands at the head of every emergency card. You can confirm without it.',
    save: 'Save the number',
  },
  /** Lines of a record. */
  told: {
    opened: (card: string): string => `Card opened: ${card}`,
    closed: (card: string): string => `Card ended: ${card}`,
    done: (o: { readonly card: string; readonly line: string }): string => `${o.card}: ${o.line}`,
    called: 'emergency number called',
  },
};

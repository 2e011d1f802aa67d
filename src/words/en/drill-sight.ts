/** What the card of a drill shows: only what is seen. What it is called, and what it calls for, is not said. */
export const drillSight = {
  seen: {
    'tooth-shines': (of: string): string => `A wet film creeps over ${of} from the gum.`,
    'tooth-red': (of: string): string => `A red streak runs over ${of}.`,
    'tooth-chalky': (of: string): string => `${of} looks matt and chalky.`,
    'tooth-brown-film': (of: string): string => `A brown film lies at the edge of ${of}.`,
    'unit-drop-inside': (of: string): string => `A clear drop lies in the inner face of ${of}.`,
    'unit-red-inside': (of: string): string => `A red spot lies in the inner face of ${of}.`,
    'unit-on-floor': (of: string): string => `${of} slips off its holder and lies on the floor.`,
    'unit-stands-high': (of: string): string => `A gap runs along the margin of ${of}.`,
    'unit-uncovered': (of: string): string => `The cover is off ${of}, and the lamp is over it.`,
    'unit-loaded-uncovered': (of: string): string =>
      `The cover is off ${of} with its cement, and the lamp is over it.`,
    'unit-corner-gone': (of: string): string => `A corner of ${of} is missing.`,
    'margin-clear-fluid': (of: string): string => `Clear fluid runs along the margin of ${of}.`,
    'margin-red': (of: string): string => `A red line runs along the margin of ${of}.`,
    'margin-red-tacked': (of: string): string => `The gum bleeds at the margin of ${of}.`,
    'lamp-dark': (_of: string): string => 'The light is dark. Its button does nothing.',
    'lamp-half': (_of: string): string =>
      'The meter shows half of what the light gave this morning.',
    'cement-strings': (of: string): string =>
      `The cement of ${of} pulls strings and no longer flows.`,
    'patient-hand-up': (_of: string): string =>
      'The patient raises a hand: a mouthful of fluid, now.',
    'outer-face-touched': (of: string): string => `A glove touched the outer face of ${of}.`,
    'lip-wet': (_of: string): string => 'The lip is wet in front of the dam.',
    'gum-red-dry': (of: string): string => `The gum beside ${of} is red. Nothing runs.`,
    'patient-swallows': (_of: string): string =>
      'The patient swallows. Nothing moves behind the dam.',
    telephone: (_of: string): string => 'The telephone rings, and it is for you.',
    'someone-enters': (_of: string): string => 'Somebody comes in and asks you something.',
  },
  /** Of an interruption. */
  away: (seconds: number): string =>
    seconds === 1 ? 'Hands away for 1 second.' : `Hands away for ${seconds} seconds.`,
  /** The terminal's account of a drill. */
  terminal: {
    head: (o: { readonly caseId: string; readonly seed: number; readonly count: number }): string =>
      `Drill of ${o.caseId}, seed ${o.seed}: ${o.count === 1 ? '1 card' : `${o.count} cards`}`,
    stretch: (o: { readonly from: string; readonly until: string }): string =>
      `From ${o.from} to ${o.until} of a case pressed when due, at the usual pace`,
    none: 'Nothing goes wrong in this one.',
    card: (o: { readonly at: string; readonly kind: string; readonly words: string }): string =>
      `${o.at}  ${o.kind}: ${o.words}`,
    neverCame: (o: { readonly kind: string; readonly words: string }): string =>
      `   never  ${o.kind}: ${o.words}`,
    taken: (o: {
      readonly wayBack: string;
      readonly subjects: string;
      readonly after: string;
    }): string => `          taken: ${o.wayBack} for ${o.subjects}, after ${o.after}`,
    room: (left: string): string => `          the tightest window had ${left} left`,
    kinds: { mishap: 'goes wrong', foil: 'calls for nothing', interruption: 'hands away' },
    scoreHead: 'What the ideal run comes to',
    score: {
      rightFirst: (o: { readonly right: number; readonly of: number }): string =>
        `right way back, right subjects, first time: ${o.right} of ${o.of}`,
      inTime: (o: { readonly right: number; readonly of: number }): string =>
        `in time: ${o.right} of ${o.of}`,
      leftAlone: (o: { readonly right: number; readonly of: number }): string =>
        `left alone what calls for nothing: ${o.right} of ${o.of}`,
      breaches: (count: number): string => `limits broken beyond the ideal run: ${count}`,
      own: (count: number): string => `limits that the ideal run itself breaks: ${count}`,
      wasted: (count: number): string => `presses wasted: ${count}`,
      presses: (count: number): string => `presses: ${count}`,
    },
  },
};

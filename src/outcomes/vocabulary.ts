/** The words of follow-up, each once. */

export const FINDINGS = [
  'in-place',
  'partly-loose',
  'lost-retention',
  'fractured',
  'chipped',
  'margin-stained',
  'caries',
  'sensitive',
  'replaced-other',
  'tooth-lost',
  'not-seen',
] as const;

export const THENS = ['left', 'repaired', 'bonded-again', 'replaced'] as const;

export const LIMIT_STATES = ['kept', 'broken', 'cannot-tell'] as const;

/** What counts as the end of a life; it is chosen before anything is counted. */
export const END_POINTS = ['retention', 'survival', 'success'] as const;

/** What a person can agree to be shown under the own name. */
export const AGREED_TO = ['own-figures', 'drills'] as const;

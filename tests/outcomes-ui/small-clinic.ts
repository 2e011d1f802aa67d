/** Clinics of a few lines: each unit with the day on which it was last in place, or failed. */
import { addDays } from '../../src/outcomes/days.ts';
import type { FollowUp, LimitState, UnitFound } from '../../src/outcomes/follow-up-types.ts';
import type { OutcomesInput } from '../../src/outcomes/model/outcomes-types.ts';
import { NO_REVIEWS, type Reviews } from '../../src/outcomes/review-types.ts';
import type { Columns } from '../outcomes/vectors.ts';

export const BONDED_ON = '2016-01-01';
export const TODAY = '2026-11-30';

export interface SmallUnit {
  readonly patient: string;
  /** Days from the bonding. */
  readonly day: number;
  readonly end: 'none' | 'event' | 'competing';
  readonly limit?: LimitState;
  readonly lot?: string;
  readonly person?: string;
  readonly revision?: number;
}

const FOUND = {
  none: { findings: ['in-place'] },
  event: { findings: ['lost-retention'], done: 'replaced' },
  competing: { findings: ['tooth-lost'] },
} as const;

/** One case a unit; the end is on the very day, as if the patient knew it. */
export function followUpOf(one: SmallUnit, n: number): FollowUp {
  const caseId = `case-${n}`;
  const onDay = addDays(BONDED_ON, one.day);
  const stated = one.end === 'none' ? {} : { statedDay: onDay };
  const unit: UnitFound = { unit: '11', ...FOUND[one.end], ...stated };
  const revision = one.revision ?? 1;
  return {
    caseId,
    bonded: {
      what: 'bonded',
      patient: one.patient,
      title: `Case ${n}`,
      bondedOn: BONDED_ON,
      protocol: { id: 'veneers', title: 'Veneers', revision, hash: String(revision).repeat(64) },
      people: [{ role: 'dentist', label: one.person ?? 'RS' }],
      lots: [{ materialClass: 'cement', lot: one.lot ?? 'L-1' }],
      units: [
        {
          unit: '11',
          teeth: ['11'],
          isBridge: false,
          restoration: 'veneer',
          material: 'lithium-disilicate',
          limits: [{ limit: 'window/open', title: 'Left open', state: one.limit ?? 'kept' }],
        },
      ],
    },
    visits:
      one.day === 0 && one.end === 'none'
        ? []
        : [
            {
              id: `visit-${n}`,
              visit: { onDay, examiner: 'TK', isOwnWork: false, units: [unit] },
              by: null,
              atWallMs: 0,
              was: [],
            },
          ],
    struck: [],
    recallsEnded: null,
    differing: [],
    unread: [],
    heads: [],
  };
}

/** Patients of one dentist, one unit each, all followed to the same day or lost before it. */
export const unitsBy = (person: string, patients: number, failed: number): readonly SmallUnit[] =>
  Array.from({ length: patients }, (_, at) => ({
    patient: `${person} ${at}`,
    day: at < failed ? 100 + 9 * at : 3900,
    end: at < failed ? 'event' : 'none',
    person,
  }));

const ENDS = ['none', 'event', 'competing'] as const;

/** The columns of a vector as units that were looked at. */
export const unitsOf = ({ times, events, cluster }: Columns): readonly SmallUnit[] =>
  times.map((day, at) => ({
    patient: `patient ${cluster?.[at] ?? at}`,
    day,
    end: ENDS[events[at] ?? 0] ?? 'none',
  }));

const told = { id: 'q', by: null, atWallMs: 0 };

/** The question that these clinics have fixed. */
export const ASKED: Reviews = {
  ...NO_REVIEWS,
  question: { endPoint: 'retention', limits: ['window/open'], onDay: BONDED_ON, ...told },
};

export const inputOf = (
  units: readonly SmallUnit[],
  change: Partial<OutcomesInput> = {},
): OutcomesInput => ({
  followUps: units.map(followUpOf),
  reviews: ASKED,
  today: TODAY,
  endPoint: 'retention',
  everyMonths: 12,
  person: null,
  isForLead: false,
  ...change,
});

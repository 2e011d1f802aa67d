/**
 * The entries of a follow-up as they come from outside: from the store of this tablet, another tablet or
 * a backup. What does not fit is no entry; it stays stored as it is.
 */
import * as v from 'valibot';
import { NAME_LENGTH_MAX } from '../base/caps.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { isDay } from './days.ts';
import type { FollowUpSaid } from './follow-up-types.ts';
import { ACCEPTED_MAX } from './model/accepted.ts';
import type { ReviewSaid } from './review-types.ts';
import { AGREED_TO, END_POINTS, FINDINGS, LIMIT_STATES, THENS } from './vocabulary.ts';

const text = v.string();
const named = v.pipe(text, v.nonEmpty());
const day = v.pipe(text, v.check(isDay, 'a calendar day'));
const findings = v.pipe(v.array(v.picklist(FINDINGS)), v.nonEmpty());

const unitFound = v.object({
  unit: named,
  findings,
  retainers: v.exactOptional(v.array(v.object({ tooth: named, findings }))),
  done: v.exactOptional(v.picklist(THENS)),
  bondedAgainIn: v.exactOptional(named),
  statedDay: v.exactOptional(day),
  grades: v.exactOptional(
    v.array(
      v.object({
        scale: named,
        year: v.pipe(v.number(), v.safeInteger()),
        item: text,
        grade: named,
      }),
    ),
  ),
});

const visit = v.object({
  onDay: day,
  examiner: text,
  isOwnWork: v.boolean(),
  units: v.array(unitFound),
  note: v.exactOptional(text),
});

const bondedUnit = v.object({
  unit: named,
  teeth: v.array(text),
  isBridge: v.boolean(),
  restoration: text,
  material: text,
  limits: v.array(v.object({ limit: named, title: text, state: v.picklist(LIMIT_STATES) })),
});

const bondedSchema = v.object({
  what: v.literal('bonded'),
  patient: text,
  title: text,
  bondedOn: day,
  seenFrom: v.exactOptional(day),
  followedDays: v.exactOptional(v.pipe(v.number(), v.safeInteger(), v.minValue(0))),
  protocol: v.exactOptional(
    v.object({
      id: named,
      title: text,
      revision: v.pipe(v.number(), v.safeInteger()),
      hash: named,
    }),
  ),
  people: v.array(v.object({ role: v.picklist(['dentist', 'assistant']), label: text })),
  lots: v.array(v.object({ materialClass: text, lot: named })),
  units: v.array(bondedUnit),
});

const saidSchema = v.variant('what', [
  bondedSchema,
  v.object({ what: v.literal('visited'), visit }),
  v.object({ what: v.literal('visit-corrected'), of: named, visit, reason: text }),
  v.object({ what: v.literal('visit-struck'), of: named, reason: text }),
  v.object({ what: v.literal('recalls-ended'), reason: text, onDay: day }),
  v.object({ what: v.literal('recalls-resumed'), onDay: day }),
  v.object({ what: v.literal('bonding-withdrawn'), of: named, reason: text }),
]);

/** What an entry of a follow-up says; null where it says nothing that this version knows. */
export const readFollowUpSaid = (said: unknown): FollowUpSaid | null => parsedOr(saidSchema, said);

const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));
const count = v.pipe(v.number(), v.safeInteger(), v.minValue(0));

const accepted = v.exactOptional(v.pipe(v.number(), v.gtValue(0), v.maxValue(ACCEPTED_MAX)));

const question = v.object({
  endPoint: v.picklist(END_POINTS),
  limits: v.array(named),
  accepted: v.exactOptional(
    v.object({ retention: accepted, survival: accepted, success: accepted }),
  ),
  onDay: day,
});

const agreement = {
  person: v.pipe(named, v.maxLength(NAME_LENGTH_MAX)),
  to: v.picklist(AGREED_TO),
  onDay: day,
};

const reviewSchema = v.variant('what', [
  v.object({ what: v.literal('question-fixed'), question }),
  v.object({
    what: v.literal('reviewed'),
    review: v.object({
      onDay: day,
      question,
      compared: v.array(
        v.object({
          grouping: named,
          lives: count,
          patients: count,
          failures: count,
          p: v.nullable(share),
          adjusted: v.nullable(share),
          permuted: v.exactOptional(share),
          refused: v.array(text),
        }),
      ),
      note: v.exactOptional(text),
    }),
  }),
  v.object({ what: v.literal('lives-left'), caseId: named }),
  v.object({
    what: v.literal('flag-looked'),
    flag: v.object({
      chart: v.picklist(['cusum', 'lot']),
      of: named,
      flaggedOn: day,
      lookedOn: day,
      note: text,
    }),
  }),
  v.object({ what: v.literal('person-agreed'), ...agreement }),
  v.object({ what: v.literal('person-withdrew'), ...agreement }),
]);

/** The same of what the clinic said of its outcomes. */
export const readReviewSaid = (said: unknown): ReviewSaid | null => parsedOr(reviewSchema, said);

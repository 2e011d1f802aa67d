/**
 * The second person who confirms a revision, where the clinic asks for one. Whether it does stands in the
 * log of the desk alone. The desk has one passphrase: who the second person is, is what is said there, and
 * the log keeps it.
 */
import { isSameJson } from '../../base/json.ts';
import { personKey } from '../../base/person-key.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { fieldAt, figuresOf, itemAt } from '../../protocol/edit-types.ts';
import type { ProtocolDraft } from './lead-drafts.ts';
import type { LeadLog } from './lead-log.ts';
import type { Revision } from './lead-revisions.ts';

/** Whether two people confirm each revision; off until somebody at the desk asks for it. */
export function asksSecond({ entries }: Pick<LeadLog, 'entries'>): boolean {
  const last = entries.findLast(({ deed, vouches }) => deed === 'second-person' && vouches);
  return last?.values['asked'] === 1;
}

/** Who compared a number of this draft that was not compared so when it began. */
function comparedHere({ start, history }: ProtocolDraft): readonly string[] {
  return figuresOf(history.protocol).flatMap(({ spot, figure }) => {
    if (figure.basis.kind !== 'instructions' || spot.part === 'protocol') return [];
    const was = itemAt(start, { part: spot.part, id: spot.id });
    const isOld = isSameJson(fieldAt(was, spot.key), figure);
    return isOld ? [] : [figure.basis.confirmedBy];
  });
}

/** Why this person cannot be the second one of a draft. Errors: `no-second`, `same-person`. */
export function refusedSecond(
  draft: ProtocolDraft,
  o: { readonly keeper: string; readonly second: string },
): Problem | null {
  const second = personKey(o.second);
  if (second === '') return problem('second', 'the name of the second person', '', 'no-second');
  const first = [o.keeper, draft.begunBy, ...comparedHere(draft)].map(personKey);
  if (!first.includes(second)) return null;
  return problem('second', 'somebody who has not worked on this draft', o.second, 'same-person');
}

/** Why a retired revision cannot come back where two confirm: one did. Error: `no-second`. */
export function refusedReturn({ approval }: Pick<Revision, 'approval'>): Problem | null {
  if (approval?.second !== undefined) return null;
  return problem('revision', 'a revision that two people confirmed', approval?.by, 'no-second');
}

/** Under which names it is noted what the clinic's store has, or is owed. */
import { fieldsOf } from '../../base/json.ts';
import type { Change } from '../../sync/sharing-database.ts';
import type { StreamName } from '../../sync/store-types.ts';
import type { Fact } from '../facts/fact.ts';

export const factMark = (id: string): string => `f:${id}`;
export const tombstoneMark = (caseId: string): string => `t:${caseId}`;

/** That a case was shared before it was deleted, whatever the store has of that. */
export const goneMark = (caseId: string): string => `d:${caseId}`;

export const offered = (id: string): Change => ({ room: 'offered', put: { id } });

const named = (first: string): Change => ({
  room: 'offered',
  drop: IDBKeyRange.bound(first, `${first}\uffff`),
});

/** What is no longer known of the store once one of its streams went back. */
export function forgottenOf(stream: StreamName): readonly Change[] {
  switch (stream) {
    case 'J':
      return [{ room: 'cases', clear: true }];
    case 'F':
      return [named('f:'), named('t:')];
    case 'K':
      return [named('k:')];
  }
}

/** What the demonstration brought is each tablet's own: it is nobody's word. */
export const isDemonstration = ({ said }: Pick<Fact, 'said'>): boolean =>
  fieldsOf(said)['demo'] === true;

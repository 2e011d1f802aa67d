/**
 * The anaesthesia of a running case: for each injection the time since, what is published of it, and
 * what may still hurt on its teeth. A top-up is a row of its own; the row before it stays and no
 * longer warns of the teeth that the top-up names. Times in ms.
 */
import { type Numbness, numbnessOf } from '../calc/anaesthesia.ts';
import type { AnaesthesiaTable } from '../calc/anaesthesia-rows.ts';
import type { Injection } from '../engine/aside-types.ts';
import { elapsed } from '../engine/axis.ts';
import type { CaseInstant, CaseState, Elapsed } from '../engine/types.ts';
import { readerOf } from '../engine/view.ts';
import type { Step } from '../protocol/types.ts';

interface NumbRow {
  readonly injection: Injection;
  readonly at: CaseInstant;
  readonly elapsed: Elapsed;
  /** Null for an agent that this version does not know. */
  readonly numbness: Numbness | null;
  /** Steps still to come on its teeth that may hurt, in the order of the protocol. */
  readonly toCome: readonly Step[];
  /** Its time is nearly up, or up, and something may still hurt. */
  readonly isWarning: boolean;
}

const IS_OVER: ReadonlySet<string> = new Set(['done', 'skipped', 'not-applicable']);

/** Every injection, in the order in which they were given. */
export function numbRows(
  state: CaseState,
  now: CaseInstant,
  table: AnaesthesiaTable,
): readonly NumbRow[] {
  const { layout, statuses } = readerOf(state);
  const open = layout.instances.filter((i) => i.step.mayHurt && !IS_OVER.has(statuses.of(i)));
  return state.injections.map((injection, n) => {
    const later = new Set(state.injections.slice(n + 1).flatMap(({ teeth }) => teeth));
    const mine = injection.teeth.filter((tooth) => !later.has(tooth));
    const hurting = open.filter(
      ({ subject }) =>
        mine.length > 0 &&
        (subject === 'case' || layout.subjects.teethOf(subject).some((t) => mine.includes(t))),
    );
    const since = elapsed(injection.at, now);
    const numbness = numbnessOf(table, injection);
    const warnAtMs = numbness?.warnAtMs ?? null;
    const toCome = layout.protocol.steps.filter((s) => hurting.some((i) => i.step.id === s.id));
    return {
      injection,
      at: injection.at,
      elapsed: since,
      numbness,
      toCome,
      isWarning: toCome.length > 0 && warnAtMs !== null && since.hiMs >= warnAtMs,
    };
  });
}

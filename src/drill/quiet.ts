/**
 * Whether a card can be seen now, beside whether its way back fits: what runs over a tooth hides what is on it, and
 * while light is given nothing else is looked at. Common practice, no source.
 */
import { edgeInstant } from '../engine/edge-instant.ts';
import { layoutOf } from '../engine/layout.ts';
import type { CaseState } from '../engine/types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { bareId, type SubjectId, scopeOf } from '../protocol/subjects.ts';
import type { Mishap } from '../protocol/types.ts';
import type { DrillCard } from './drill-types.ts';

/** Ids of steps that the shipped protocols share; a clinic's own protocol copies them. */
const ISOLATED = 'field-isolated';
const OPENED = 'field-opened';
const CORD_IN = 'cord-soaked';
const ADHESIVE: ReadonlySet<string> = new Set(['coats', 'bond']);

/** An option of the cord that carries an astringent. */
const WITH_AGENT = 'with-agent';

function isLit({ runs, lightPass }: CaseState): boolean {
  return lightPass !== null || Object.values(runs).some(({ lit }) => lit !== null);
}

const hasDone = (state: CaseState, step: string): boolean =>
  (layoutOf(state).byStep.get(step) ?? []).some(
    ({ key }) => edgeInstant(state.runs[key], 'end') !== null,
  );

/** Whether a step runs on one of these subjects. */
function isWorkedOn({ runs }: CaseState, subjects: readonly SubjectId[]): boolean {
  return Object.entries(runs).some(
    ([key, { status }]) =>
      status === 'running' && subjects.some((subject) => key.endsWith(`@${subject}`)),
  );
}

/** Whether adhesive has come onto one of these teeth. */
const hasAdhesive = ({ runs }: CaseState, subjects: readonly SubjectId[]): boolean =>
  subjects.some((subject) =>
    [...ADHESIVE].some((step) => {
      const run = runs[`${step}@${subject}`];
      return run !== undefined && (run.startedAt !== null || run.counts.length > 0);
    }),
  );

/** Whether what the card shows can be seen in this state. */
export function canBeSeen(state: CaseState, card: DrillCard): boolean {
  if (card.kind === 'mishap' && card.mishap === 'light-failed') return true;
  if (isLit(state)) return false;
  if (card.kind === 'interruption') return true;
  if (card.kind === 'foil') {
    const isBehindDam = card.sight === 'lip-wet' || card.sight === 'patient-swallows';
    return !isBehindDam || (hasDone(state, ISOLATED) && !hasDone(state, OPENED));
  }
  if (isWorkedOn(state, card.subjects)) return false;
  return card.mishap !== 'haemostatic-on-tooth' || !hasAdhesive(state, card.subjects);
}

/** Whether a mishap can happen to a subject of this case at all. */
export function canHappen(spec: CaseFile, mishap: Mishap, subject: SubjectId): boolean {
  if (mishap === 'haemostatic-on-tooth') {
    return Object.values(spec.choices ?? {}).includes(WITH_AGENT);
  }
  if (mishap !== 'dried-out' || scopeOf(subject) !== 'tooth') return true;
  // Etched enamel that is dry looks chalky, as it should.
  const tooth = spec.teeth?.find((each) => each.tooth === bareId(subject));
  return tooth?.substrate?.includes('dentine-shows') ?? false;
}

/** From when a mishap can happen where that is later than its span: astringent comes with the cord. */
export const canHappenFrom = (mishap: Mishap): string | null =>
  mishap === 'haemostatic-on-tooth' ? CORD_IN : null;

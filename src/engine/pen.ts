/** The pen of a case: who may write it, and how it goes from one tablet to another. */
import { err, ok, type Result } from '../base/result.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import type { Pen, PenPoint, PenTaken } from './pen-types.ts';
import type { CaseEvent, CaseState } from './types.ts';

type Of<K extends Command['do']> = Extract<Command, { do: K }>;

/** Whether this tablet writes the case. One of older versions is written by whoever has it. */
export function holdsPen({ holder, given }: Pen, tablet: string): boolean {
  return given === null && (holder === null || holder === tablet);
}

/** Why this tablet may take the pen with one press; null where nobody gave it up for it. */
export function isFree(
  { pen, closed }: Pick<CaseState, 'pen' | 'closed'>,
  tablet: string,
): 'given' | 'closed' | null {
  if (closed !== null) return 'closed';
  const { holder, given } = pen;
  if (given === null) return null;
  return given.to === null || given.to === tablet || holder === tablet ? 'given' : null;
}

export function decideGivePen(
  { pen }: CaseState,
  { tablet, name, to, toName }: Of<'give-pen'>,
): Result<readonly CaseEvent[], Refusal> {
  if (!holdsPen(pen, tablet) || to === tablet) return err(refusal('not-holder'));
  return ok([{ type: 'pen-given', tablet, name, to, toName }]);
}

export function decideTakePen(
  state: CaseState,
  c: Of<'take-pen'>,
): Result<readonly CaseEvent[], Refusal> {
  const { tablet, name, fromName, reason, seen, over } = c;
  const { pen } = state;
  if (over === undefined && holdsPen(pen, tablet)) return err(refusal('holds-pen'));
  const taken = {
    type: 'pen-taken',
    tablet,
    name,
    fromName,
    ...(seen && { seen }),
    ...(over && { over }),
  } as const;
  const from = over === undefined ? isFree(state, tablet) : null;
  if (from !== null) return ok([{ ...taken, from }]);
  if (c.isHeard) return err(refusal('pen-is-held', { tablet: pen.name ?? '' }));
  const why = reason?.trim() ?? '';
  if (why === '') return err(refusal('reason-missing'));
  return ok([{ ...taken, from: 'gone', reason: why }]);
}

/** Whether the clocks of the tablet that takes the pen are other clocks than those before. */
export const isElsewhere = ({ pen }: CaseState, { tablet }: Pick<PenTaken, 'tablet'>): boolean =>
  pen.holder !== tablet;

/** Before the first entry of a case. */
export const PEN_START: PenPoint = { holder: null, name: null, given: null, wasClosed: false };

/** Who holds the pen behind an event. */
export function penAfter(before: PenPoint, event: CaseEvent): PenPoint {
  switch (event.type) {
    case 'case-opened':
      return { ...before, holder: event.tablet ?? null };
    case 'pen-given': {
      const { tablet: holder, name, to, toName } = event;
      return { ...before, holder, name, given: { to, toName } };
    }
    case 'pen-taken':
      return { ...before, holder: event.tablet, name: event.name, given: null };
    case 'case-closed':
      return { ...before, wasClosed: true };
    default:
      return before;
  }
}

/**
 * Whether an event may stand at its place in the name of whoever wrote it.
 * @param o.isWriter whether that was the tablet that the case names so.
 */
export function mayWrite(
  { holder, given, wasClosed }: PenPoint,
  {
    event,
    isWriter,
  }: { readonly event: CaseEvent; readonly isWriter: (tablet: string) => boolean },
): boolean {
  switch (event.type) {
    case 'case-opened':
      return event.tablet === undefined || isWriter(event.tablet);
    case 'pen-taken': {
      if (!isWriter(event.tablet)) return false;
      if (event.from === 'gone') return true;
      if (event.from === 'closed') return wasClosed;
      const isForIt = given?.to == null || isWriter(given.to) || holder === event.tablet;
      return given !== null && isForIt;
    }
    default:
      return given === null && (holder === null || isWriter(holder));
  }
}

/** The pen of a case: who may write it, and how it goes from one tablet to another. */
import { err, ok, type Result } from '../base/result.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import type { Pen, PenTaken } from './pen-types.ts';
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

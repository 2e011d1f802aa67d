/**
 * Light that tones have led and nobody has confirmed is not skipped over: people say first whether it was
 * given. A visit is not stopped while a pass is under way either.
 */
import { unitSubject } from '../protocol/subjects.ts';
import { place } from './axis.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { layoutOf } from './layout.ts';
import { stopped } from './light-pass.ts';
import type { CaseState, Stamp } from './types.ts';

/** Why a command waits for a pass of light; null where it does not. */
export function ledInTheWay(state: CaseState, command: Command, now: Stamp): Refusal | null {
  const { lightPass } = state;
  if (lightPass === null) return null;
  const { at } = place(state.anchor, now);
  const led = stopped(lightPass, at).led.map(({ subject }) => subject);
  const no = refusal('light-is-on', { step: lightPass.step, subject: led[0] ?? '' });
  switch (command.do) {
    case 'stop-visit':
      return led.length > 0 || lightPass.running !== null ? no : null;
    case 'set-aside': {
      const { subjects } = layoutOf(state);
      const unit = unitSubject(command.unit);
      return led.some((subject) => subjects.linked(subject, 'unit').includes(unit)) ? no : null;
    }
    case 'skip': {
      const isOf = command.step === lightPass.step;
      return isOf && led.some((subject) => command.subjects.includes(subject)) ? no : null;
    }
    default:
      return null;
  }
}

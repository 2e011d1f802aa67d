/**
 * Everything that a language has to say, by topic. English is the pattern: another language exports
 * an object that `satisfies Catalogue`, and the compiler names what it lacks.
 */
import type { app } from './en/app.ts';
import type { around } from './en/around.ts';
import type { basis } from './en/basis.ts';
import type { card } from './en/card.ts';
import type { change } from './en/change.ts';
import type { editor } from './en/editor.ts';
import type { finding } from './en/finding.ts';
import type { lead } from './en/lead.ts';
import type { otherClinics } from './en/other-clinics.ts';
import type { overdue } from './en/overdue.ts';
import type { ownTimes } from './en/own-times.ts';
import type { protocol } from './en/protocol.ts';
import type { today } from './en/today.ts';

export interface Catalogue {
  readonly app: typeof app;
  readonly around: typeof around;
  readonly basis: typeof basis;
  readonly card: typeof card;
  readonly change: typeof change;
  readonly editor: typeof editor;
  readonly finding: typeof finding;
  readonly lead: typeof lead;
  readonly otherClinics: typeof otherClinics;
  readonly overdue: typeof overdue;
  readonly ownTimes: typeof ownTimes;
  readonly protocol: typeof protocol;
  readonly today: typeof today;
}

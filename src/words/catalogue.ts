/**
 * Everything that a language has to say, by topic. English is the pattern: another language exports
 * an object that `satisfies Catalogue`, and the compiler names what it lacks.
 */
import type { app } from './en/app.ts';
import type { around } from './en/around.ts';
import type { atHand } from './en/at-hand.ts';
import type { basis } from './en/basis.ts';
import type { breach } from './en/breach.ts';
import type { card } from './en/card.ts';
import type { chair } from './en/chair.ts';
import type { evidence, extra, sheet, wipe } from './en/chair-sheets.ts';
import type { change } from './en/change.ts';
import type { clock } from './en/clock.ts';
import type { dates } from './en/dates.ts';
import type { editor } from './en/editor.ts';
import type { explainedLine } from './en/explained-line.ts';
import type { farView } from './en/far-view.ts';
import type { finding } from './en/finding.ts';
import type { form } from './en/form.ts';
import type { key } from './en/key.ts';
import type { lead } from './en/lead.ts';
import type { offer } from './en/offer.ts';
import type { openCase } from './en/open-case.ts';
import type { otherClinics } from './en/other-clinics.ts';
import type { overdue } from './en/overdue.ts';
import type { ownTimes } from './en/own-times.ts';
import type { part } from './en/part.ts';
import type { protocol } from './en/protocol.ts';
import type { readBack } from './en/read-back.ts';
import type { refusal } from './en/refusal.ts';
import type { size } from './en/size.ts';
import type { sound } from './en/sound.ts';
import type { subject, surface } from './en/subject.ts';
import type { today } from './en/today.ts';
import type { coach, notice } from './en/tour.ts';
import type { zones } from './en/zones.ts';

export interface Catalogue {
  readonly app: typeof app;
  readonly around: typeof around;
  readonly atHand: typeof atHand;
  readonly basis: typeof basis;
  readonly breach: typeof breach;
  readonly card: typeof card;
  readonly chair: typeof chair;
  readonly change: typeof change;
  readonly clock: typeof clock;
  readonly coach: typeof coach;
  readonly dates: typeof dates;
  readonly editor: typeof editor;
  readonly evidence: typeof evidence;
  readonly extra: typeof extra;
  readonly farView: typeof farView;
  readonly finding: typeof finding;
  readonly key: typeof key;
  readonly form: typeof form;
  readonly lead: typeof lead;
  readonly notice: typeof notice;
  readonly offer: typeof offer;
  readonly openCase: typeof openCase;
  readonly otherClinics: typeof otherClinics;
  readonly overdue: typeof overdue;
  readonly ownTimes: typeof ownTimes;
  readonly part: typeof part;
  readonly protocol: typeof protocol;
  readonly readBack: typeof readBack;
  readonly refusal: typeof refusal;
  readonly explainedLine: typeof explainedLine;
  readonly sheet: typeof sheet;
  readonly size: typeof size;
  readonly sound: typeof sound;
  readonly subject: typeof subject;
  readonly surface: typeof surface;
  readonly today: typeof today;
  readonly wipe: typeof wipe;
  readonly zones: typeof zones;
}

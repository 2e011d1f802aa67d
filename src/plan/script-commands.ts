/**
 * From one row of a script to the command it stands for. Names that the case does not have are
 * answered here, with the place in the script, before the engine is asked.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { Command } from '../engine/commands.ts';
import type { Layout } from '../engine/layout.ts';
import type { Offer } from '../engine/view-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { bareId } from '../protocol/subjects.ts';
import type { Scope } from '../protocol/types.ts';
import type { PlacedRow } from './parse-script.ts';
import type { ScriptRow } from './schema-script.ts';
import { scriptMs } from './script-time.ts';

/** What a row is read against: the case as it stands at its instant. */
interface RowScene {
  readonly layout: Layout;
  readonly offers: readonly Offer[];
}

type Read = Result<Command, Problem>;

const SHOWN_MAX = 12;

/** A list for an error line, cut short. */
function someOf(names: readonly string[]): string {
  const shown = names.slice(0, SHOWN_MAX).join(', ');
  return names.length > SHOWN_MAX ? `${shown}, …` : shown;
}

/** `11` becomes `tooth:11` for a step that is done per tooth. */
function fullName(name: string, per: Scope): SubjectId {
  return name === 'case' || name.includes(':') ? name : `${per}:${name}`;
}

interface Named {
  readonly step: string;
  readonly subjects: readonly SubjectId[];
}

/** The step and the subjects that a row names; the case itself where it names none. */
function namedIn(
  { layout }: RowScene,
  place: string,
  named: { readonly step: string; readonly subjects?: readonly string[] },
): Result<Named, Problem> {
  const step = layout.protocol.steps.find((s) => s.id === named.step);
  if (!step) {
    return err(problem(`${place}.step`, 'a step of the protocol', named.step, 'unknown-step'));
  }
  const known = layout.subjects.order[step.per];
  const subjects = (named.subjects ?? ['case']).map((name) => fullName(name, step.per));
  const at = subjects.findIndex((s, i) => !known.includes(s) || subjects.indexOf(s) !== i);
  if (at < 0 && subjects.length > 0) return ok({ step: step.id, subjects });
  const where = named.subjects === undefined ? '.subjects' : `.subjects[${Math.max(0, at)}]`;
  return err(
    problem(
      `${place}${where}`,
      `once each: ${someOf(known)}`,
      named.subjects?.[Math.max(0, at)],
      'unknown-subject',
    ),
  );
}

type PressRow = Exclude<NonNullable<ScriptRow['press']>, 'next'>;

/** The light is set to what the step still owes there, unless the row says for how long. */
function lightOf(scene: RowScene, named: Named, press: PressRow): Partial<Offer> {
  const { surface, position = 1, set } = press;
  if (surface === undefined) return {};
  const subject = bareId(named.subjects[0] ?? '');
  const offered = scene.offers.find(
    (o) => o.surface === surface && o.position === position && o.subjects[0] === named.subjects[0],
  );
  const planned = scene.layout.plan.exposures[named.step]?.[subject]?.find(
    (p) => p.surface === surface,
  );
  const setMs = set === undefined ? (offered?.setMs ?? planned?.setMs ?? 0) : scriptMs(set);
  return { surface, position, setMs };
}

function pressCommand(scene: RowScene, place: string, press: ScriptRow['press']): Read {
  if (press === undefined || press === 'next') {
    const [offer] = scene.offers;
    if (offer) return ok({ do: 'press', offer });
    return err(problem(place, 'something to press', 'nothing is offered any more', 'nothing-left'));
  }
  const named = namedIn(scene, `${place}.press`, press);
  if (!named.ok) return named;
  const { kind, option, evidence, reason } = press;
  const offer = {
    kind,
    ...named.value,
    ...lightOf(scene, named.value, press),
    ...(option === undefined ? {} : { option }),
  };
  const more = {
    ...(evidence === undefined ? {} : { evidence }),
    ...(reason === undefined ? {} : { reason }),
  };
  return ok({ do: 'press', offer, ...more });
}

function wayBackCommand(
  scene: RowScene,
  place: string,
  row: NonNullable<ScriptRow['wayBack']>,
): Read {
  const { id = null, mishap, subjects, reason, voids } = row;
  const way = scene.layout.protocol.waysBack.find((w) => w.id === id);
  if (id !== null && !way) {
    return err(problem(`${place}.id`, 'a way back of the protocol', id, 'unknown-way-back'));
  }
  const full = subjects.map((name) => (way ? fullName(name, way.per) : name));
  const known: ReadonlySet<string> = new Set(Object.values(scene.layout.subjects.order).flat());
  const at = full.findIndex((s) => !known.has(s));
  if (at >= 0) {
    const expected = 'a subject of the case such as "tooth:11"';
    return err(problem(`${place}.subjects[${at}]`, expected, subjects[at], 'unknown-subject'));
  }
  const own = voids === undefined ? {} : { voids };
  return ok({ do: 'take-way-back', wayBack: id, mishap, subjects: full, reason, ...own });
}

/** The command of a row that is neither a row of the device nor one to follow. */
export function commandOf(scene: RowScene, { place, row }: PlacedRow): Read {
  if (row.press !== undefined) return pressCommand(scene, place, row.press);
  if (row.skip !== undefined) {
    const named = namedIn(scene, `${place}.skip`, row.skip);
    return named.ok ? ok({ do: 'skip', ...named.value, reason: row.skip.reason }) : named;
  }
  if (row.undo !== undefined) return ok({ do: 'undo' });
  if (row.retime !== undefined) return ok({ do: 'retime', byMs: scriptMs(row.retime) });
  if (row.wayBack !== undefined) return wayBackCommand(scene, `${place}.wayBack`, row.wayBack);
  if (row.addMix !== undefined) return ok({ do: 'add-mix', ...row.addMix });
  if (row.probe !== undefined) {
    const { mix, found } = row.probe;
    return ok({ do: 'probe-bead', mix: fullName(mix, 'mix'), found });
  }
  if (row.role !== undefined) return ok({ do: 'take-role', ...row.role });
  if (row.close !== undefined) return ok({ do: 'close', ...row.close });
  return ok({ do: 'note', words: row.note ?? '' });
}

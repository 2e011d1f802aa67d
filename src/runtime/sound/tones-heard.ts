/**
 * Whether a person has said in this session that the tones are heard on this tablet: by the test sound, or
 * at the step of the case that asks for it. The newest answer counts. Instants in ms since 1970.
 */
import type { CaseLog } from '../../engine/log.ts';
import type { Step } from '../../protocol/types.ts';
import type { Settings } from '../app-state.ts';

/** Answers to "Which of them work?" in the protocols that say that the sound was heard. */
const HEARD: ReadonlySet<string> = new Set(['sound-and-pedal', 'sound-only']);

interface Answer {
  readonly atMs: number;
  readonly isHeard: boolean;
}

type HeardSettings = Pick<Settings, 'heardAtMs' | 'heardVolume' | 'volume'>;

function optionsOf({ action }: Step): readonly { readonly id: string; readonly label: string }[] {
  const evidence = action.kind === 'confirm' ? action.evidence : undefined;
  const options = evidence?.kind === 'choice' ? evidence.options : [];
  return options.some(({ id }) => HEARD.has(id)) ? options : [];
}

/** What the case itself says, as long as the press that says so stands. */
function fromCase({ state, records }: CaseLog): Answer[] {
  return state.opened.protocol.steps.flatMap((step) => {
    const said = state.runs[`${step.id}@case`]?.evidence;
    const option = optionsOf(step).find(({ label }) => label === said);
    if (option === undefined) return [];
    const atMs = records.findLast(
      ({ event }) => event.type === 'step-confirmed' && event.step === step.id,
    )?.stamp.wallMs;
    return [{ atMs: atMs ?? 0, isHeard: HEARD.has(option.id) }];
  });
}

/** Whether the answer to the test sound is of this session: given since it began, or used in this case. */
function isOfSession(log: CaseLog, heardAtMs: number, sinceMs: number): boolean {
  const openedMs = log.records[0]?.stamp.wallMs ?? sinceMs;
  if (heardAtMs >= Math.min(sinceMs, openedMs)) return true;
  return log.records.some(({ event }) => event.type === 'tones-heard' && event.heard);
}

/**
 * @param o.sinceMs when this page was opened.
 * @param o.nobodyAtMs when somebody last said on this page that nobody hears the test sound.
 */
export function isToldHeard(o: {
  readonly log: CaseLog;
  readonly settings: HeardSettings;
  readonly sinceMs: number;
  readonly nobodyAtMs: number | null;
}): boolean {
  const { heardAtMs, heardVolume, volume } = o.settings;
  const answers = fromCase(o.log);
  if (heardAtMs !== null && isOfSession(o.log, heardAtMs, o.sinceMs)) {
    answers.push({ atMs: heardAtMs, isHeard: volume >= heardVolume });
  }
  if (o.nobodyAtMs !== null) answers.push({ atMs: o.nobodyAtMs, isHeard: false });
  return answers.toSorted((a, b) => b.atMs - a.atMs)[0]?.isHeard ?? false;
}

/**
 * What a form can be asked about although the file would be read: values that no case of its kind
 * has, days that cannot be, two people whom the record could not tell apart. Pure.
 */
import type { CaseFile } from '../../protocol/case-types.ts';
import { instantOf, type Times } from '../../words/date-words.ts';
import { restorationForms } from '../../words/material-words.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { type CaseDraft, judge, problemsOf } from './set-up-model.ts';

/**
 * The thickest unit of a kind, in mm: beyond it a decimal point was most likely lost. Common
 * practice, no source; wide on purpose, since a thick unit is told of elsewhere.
 */
const THICKEST_MM: ReadonlyMap<string, number> = new Map([
  ['veneer', 2],
  ['inlay', 8],
  ['onlay', 8],
  ['crown', 8],
  ['bridge', 8],
]);

interface Asked {
  readonly times: Times;
  readonly nowMs: number;
  /** The case as it was kept: an appointment that is over is no mistake of whoever changes a note. */
  readonly base: CaseFile | undefined;
}

function thicknessChecks({ units }: CaseFile): [string, string][] {
  return units.flatMap(({ restoration, thicknessMm }, index) => {
    const most = THICKEST_MM.get(restoration);
    if (most === undefined || thicknessMm === undefined || thicknessMm <= most) return [];
    const words = setUpWords.tooThick({
      kind: restorationForms(restoration).one,
      mm: thicknessMm,
      most,
    });
    return [[`case.units[${index}].thicknessMm`, words]];
  });
}

function dateChecks(spec: CaseFile, { times, nowMs, base }: Asked): [string, string][] {
  const found: [string, string][] = [];
  const at = instantOf(spec.scheduledFor);
  const isAsKept = base?.scheduledFor === spec.scheduledFor;
  if (at !== null && at < nowMs && !isAsKept) {
    found.push(['case.scheduledFor', setUpWords.whenPast]);
  }
  const { readOn } = spec.light;
  if (readOn !== undefined && times.daysFrom(readOn, nowMs) < 0) {
    found.push(['case.light.readOn', setUpWords.readOnAhead]);
  }
  return found;
}

function peopleChecks({ people }: CaseFile): [string, string][] {
  const nameOf = (label: string): string => label.trim().toLocaleLowerCase();
  return people.flatMap(({ label }, index) => {
    const isTaken = people.slice(0, index).some((other) => nameOf(other.label) === nameOf(label));
    return isTaken ? [[`case.people[${index}].label`, setUpWords.sameName]] : [];
  });
}

/** What keeps a draft from being saved, by the place of its field: unreadable first, else asked. */
export function faultsOf(
  draft: CaseDraft,
  o: { readonly times: Times; readonly nowMs: number },
): ReadonlyMap<string, string> {
  const judged = judge(draft, o.times);
  return judged.ok ? checksOf(judged.value, { ...o, base: draft.base }) : problemsOf(judged.error);
}

/** What is asked about a case that the parser takes, by the place of its field. */
export function checksOf(spec: CaseFile, o: Asked): ReadonlyMap<string, string> {
  return new Map([...thicknessChecks(spec), ...dateChecks(spec, o), ...peopleChecks(spec)]);
}

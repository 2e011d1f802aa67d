/** Words of the plan: the picture, the alternatives, and how each number came about. */
import { unreachable } from '../base/assert.ts';
import type { HeatLevel } from '../calc/heat.ts';
import type { Alternative } from '../plan/alternatives.ts';
import type { Because } from '../plan/because.ts';
import type { Careful } from '../plan/careful.ts';
import type { Explanation } from '../plan/explanation.ts';
import { PUBLISHED_VISITS } from '../plan/published-visits.ts';
import type { Replan } from '../plan/replan.ts';
import type { Bar, Lane } from '../plan/timeline.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { SURFACES } from '../protocol/vocabulary.ts';
import { formatWords } from './duration.ts';
import { plan } from './en/plan.ts';
import { spoken } from './language.ts';
import { materialWord } from './material-words.ts';
import { formatPercent } from './number.ts';
import { stepOf } from './offer-words.ts';
import type { CaseNaming } from './step-texts.ts';
import {
  portionTitle,
  subjectLabel,
  subjectsLabel,
  surfaceOn,
  teethUnder,
  toothLabel,
} from './subject-words.ts';

export const planWords = spoken('plan', plan);

export function laneWords(lane: Lane, naming: CaseNaming): string {
  switch (lane.kind) {
    case 'person': {
      const person = naming.spec.people.find((p) => p.role === lane.id);
      return person?.label ?? (lane.id === 'dentist' ? planWords.dentist : planWords.assistant);
    }
    case 'light':
      return planWords.light;
    case 'mix':
      return portionTitle(lane.id);
    default:
      return unreachable(lane.kind);
  }
}

export function barWords(bar: Bar, { protocol, spec }: CaseNaming): string {
  const title = stepOf(protocol, bar.step)?.title ?? bar.step;
  return planWords.bar({ title, subject: subjectsLabel(bar.subjects, spec) });
}

/** The title of what a band is about: a window, or the dwell of a step. */
export function bandTitle(of: string, { protocol }: CaseNaming): string {
  const window = protocol.windows.find((w) => w.id === of);
  return window?.title ?? stepOf(protocol, of)?.title ?? of;
}

/** What is left of a band's limit, or how much it is over it. */
export function slackWords(ms: number): string {
  return ms < 0 ? planWords.tooLong(formatWords(-ms)) : planWords.toSpare(formatWords(ms));
}

/** A share of the simulated runs; none is told with their number. */
interface Chance {
  readonly share: number;
  readonly runs: number;
}

export function chanceWords({ share, runs }: Chance): string {
  return share === 0 ? planWords.chanceNone(runs) : planWords.chanceShare(formatPercent(share));
}

/** The same for the case as a whole, standing by itself. */
export function riskWords({ share, runs }: Chance): string {
  return share === 0 ? planWords.riskNone(runs) : planWords.riskShare(formatPercent(share));
}

/** What a touched bar of the picture is, whose, when, and why then. */
export function barLineWords(bar: Bar, lane: Lane | undefined, naming: CaseNaming): string {
  return planWords.barLine({
    work: barWords(bar, naming),
    who: lane === undefined ? '' : laneWords(lane, naming),
    from: formatWords(bar.startMs),
    until: formatWords(bar.endMs),
    why: becauseWords(bar.because, naming),
  });
}

function becauseWords({ kind, step, subjects, plusMs }: Because, naming: CaseNaming): string {
  const { because } = planWords;
  const title = stepOf(naming.protocol, step ?? '')?.title ?? '';
  const work = planWords.bar({ title, subject: subjectsLabel(subjects, naming.spec) });
  switch (kind) {
    case 'opening':
      return because.opening;
    case 'pause':
      return because.pause;
    case 'after':
      return because.after(work);
    case 'busy':
      return because.busy(work);
    case 'acts':
      return because.acts({ span: formatWords(plusMs), work });
    default:
      return unreachable(kind);
  }
}

/** How rounds and portions were decided, one line each, and what they cost; nothing where people chose. */
export function carefulWords({ groups, priceMs, samples }: Careful, naming: CaseNaming): string[] {
  const told = groups.map(({ kind, step, sizes, fewest, pBroken, isUnder }) => {
    const title = stepOf(naming.protocol, step ?? '')?.title ?? '';
    const way = kind === 'mixes' ? planWords.portions(sizes) : planWords.rounds({ title, sizes });
    const chance = chanceWords({ share: pBroken, runs: samples });
    const plain = planWords.grouped({ way, chance });
    const instead = { told: plain, fewest: fewest.join(' + ') };
    const line = sizes.length === fewest.length ? plain : planWords.carefulInstead(instead);
    return isUnder ? line : planWords.carefulLeast(line);
  });
  if (groups.every(({ sizes, fewest }) => sizes.length === fewest.length)) return told;
  return [...told, planWords.carefulPrice(priceWords(priceMs))];
}

function priceWords(ms: number): string {
  if (Math.abs(ms) < SAME_MS) return planWords.asLong;
  const span = formatWords(Math.abs(ms));
  return ms > 0 ? planWords.takesLonger(span) : planWords.takesShorter(span);
}

/** What whole visits took elsewhere, in one text. */
export function visitsWords(units: number): string {
  const told = PUBLISHED_VISITS.map(({ what, meanMinutes, sdMinutes }) =>
    planWords.visit({ what: planWords.visits[what], mean: meanMinutes, sd: sdMinutes }),
  );
  const list = `${told.join(', ')}.`;
  return units > 1 ? `${list} ${planWords.noVisits}` : list;
}

function choiceWords(a: Alternative, { protocol, spec }: CaseNaming): string {
  const { sizes } = a;
  switch (a.kind) {
    case 'mixes':
      return planWords.portions(sizes);
    case 'rounds': {
      const step = a.step ?? '';
      return planWords.rounds({ title: stepOf(protocol, step)?.title ?? step, sizes });
    }
    case 'order':
      return planWords.order(a.order.map((u) => subjectLabel(`unit:${u}`, spec)));
    default:
      return unreachable(a.kind);
  }
}

/** A difference below this reads as none. */
const SAME_MS = 30_000;

function deltaWords(ms: number): string {
  if (Math.abs(ms) < SAME_MS) return planWords.asLong;
  return ms > 0 ? planWords.longer(formatWords(ms)) : planWords.shorter(formatWords(-ms));
}

/** "2 portions for 4 + 4: outside in 3 % of simulated runs, 2 min longer". */
export function alternativeWords(
  a: Alternative,
  o: { readonly naming: CaseNaming; readonly runs: number },
): string {
  const told = {
    way: choiceWords(a, o.naming),
    chance: chanceWords({ share: a.pBroken, runs: o.runs }),
    length: deltaWords(a.chairDeltaMs),
  };
  return a.canBeKept ? planWords.way(told) : planWords.wayNotKept(told);
}

export function formulaWords(e: Explanation): string {
  return planWords.formulas[e.formula];
}

export function decidedWords(e: Explanation): string {
  if (e.formula !== 'longest-exposure-time') return planWords.decided[e.decidedBy];
  const words = planWords.longestExposure;
  if (e.inputs['doseSeconds'] === undefined) return words.onlyProduct;
  return e.decidedBy === 'dose' ? words.computed : words.product;
}

/**
 * What the caution about heat says of a level; null where nothing reaches the marker. It names
 * where the figures were measured, never what happens to a tooth.
 */
export function heatWords(level: HeatLevel, units: readonly string[]): string | null {
  switch (level) {
    case 'below-marker':
      return null;
    case 'within-uncertainty':
    case 'above-marker':
      return planWords.heatLevels[level](planWords.units(units));
    default:
      return unreachable(level);
  }
}

/** At least so many seconds are told in minutes. */
const MINUTES_FROM_S = 120;

/** "42 s", "4 + 4", "3 spots", "in fewer than 1 of 2000 simulated runs". */
export function explainedValue(e: Explanation): string {
  const { values } = planWords;
  const value = Number(e.value);
  const text = Array.isArray(e.value) ? e.value.join(' + ') : String(Math.round(value * 100) / 100);
  switch (e.unit) {
    case 'share': {
      const isNone = e.formula === 'share-of-draws' && value === 0;
      return isNone ? values.none(Number(e.inputs['draws'])) : formatPercent(value);
    }
    case 's':
      return Math.abs(value) >= MINUTES_FROM_S ? formatWords(value * 1000) : values.seconds(text);
    case 'subjects':
      return text;
    case 'units':
      return values.units(text);
    case 'positions':
      return values.positions(value);
    case 'J/cm2':
      return values.dose(text);
    default:
      return unreachable(e.unit);
  }
}

/** "Exposure, Expose, 11, facial": what an explanation is about. */
export function explainedWhat(e: Explanation, naming: CaseNaming): string {
  const [kind = '', id = '', unit = '', surface = ''] = e.id.split('/');
  const { about } = planWords;
  const of = id === '' ? '' : bandTitle(id, naming);
  const isTooth = naming.protocol.steps.some((s) => s.id === id && s.per === 'tooth');
  const nameOf = (bare: string): string =>
    subjectLabel(bare.includes(':') ? bare : `unit:${bare}`, naming.spec);
  switch (kind) {
    case 'chair':
      return chairWords(id);
    case 'exposure': {
      const lit = unit.includes(':') ? unit : `${isTooth ? 'tooth' : 'unit'}:${unit}`;
      const told = SURFACES.find((known) => known === surface);
      const what = {
        of,
        where: [
          nameOf(isTooth ? `tooth:${unit}` : unit),
          told === undefined ? surface : surfaceOn(told, teethUnder([lit], naming.spec)),
        ],
      };
      if (e.formula === 'time-for-the-dose') return about.dose(what);
      return e.formula === 'tip-positions' ? about.positions(what) : about.exposure(what);
    }
    case 'window':
      if (unit === 'temperature') return about.temperature({ of, where: [] });
      return unit === 'lamp' ? about.lamp({ of, where: [] }) : about.window({ of, where: [] });
    case 'mixes':
      return about.mixes;
    case 'heat':
    case 'transmittance':
      return about[kind]({ of: nameOf(id), where: [] });
    case 'rounds':
    case 'pace':
    case 'change-over':
    case 'room':
    case 'chance':
      // Rounds of one class of ceramic name it.
      return about[kind]({ of, where: unit === '' ? [] : [materialWord(unit)] });
    default:
      return e.id;
  }
}

function chairWords(id: string): string {
  if (id === 'any') return planWords.risk;
  return id === 'p90' ? planWords.chairP90 : planWords.chairTime;
}

/** What goes into a formula; its own name where no words are known for it. */
export function inputName(key: string): string {
  const names: Readonly<Record<string, string>> = planWords.inputs;
  return names[key] ?? key;
}

/** A thousandth is finer than anything that is measured here. */
const INPUT_PER_ONE = 1000;

function inputValue(key: string, value: Explanation['inputs'][string], naming: CaseNaming): string {
  if (typeof value === 'number') return String(Math.round(value * INPUT_PER_ONE) / INPUT_PER_ONE);
  if (typeof value !== 'string') return value.join(' + ');
  const levels: Readonly<Record<string, string>> = planWords.levels;
  switch (key) {
    case 'window':
      return bandTitle(value, naming);
    case 'tooth':
      return toothLabel(value, naming.spec.notation);
    case 'material':
      return materialWord(value);
    case 'level':
      return levels[value] ?? value;
    default:
      return value;
  }
}

/** Names and values of all that goes into a formula. */
export function inputsTold(
  { inputs }: Explanation,
  naming: CaseNaming,
): readonly { readonly id: string; readonly name: string; readonly value: string }[] {
  return Object.entries(inputs).map(([key, value]) => ({
    id: key,
    name: inputName(key),
    value: inputValue(key, value, naming),
  }));
}

/**
 * "2 min behind; portion 2 still fits": where the chair stands against its plan; null while nothing is
 * said. `over`: mixes whose working time has run out since the plan was asked.
 */
export function replanWords(
  found: Pick<Replan, 'lagMs' | 'mixes'>,
  naming: CaseNaming,
  over: readonly SubjectId[] = [],
): string | null {
  const { lagMs } = found;
  const pace = lagMs === null ? null : paceWords(Math.round(lagMs / 60_000) * 60_000);
  const portion = portionWords(found.mixes, naming, over);
  if (pace === null || portion === null) return pace ?? portion;
  return planWords.paceAndPortion({ pace, portion });
}

function portionWords(
  mixes: Replan['mixes'],
  naming: CaseNaming,
  over: readonly SubjectId[],
): string | null {
  const [late] = over;
  if (late !== undefined) return planWords.portionOver(subjectLabel(late, naming.spec));
  const waiting = mixes.find((m) => m.state !== 'done' && m.slackMs !== null);
  if (waiting === undefined) return null;
  const portion = subjectLabel(waiting.mix, naming.spec);
  return waiting.fits ? planWords.stillFits(portion) : planWords.noLongerFits(portion);
}

function paceWords(lateMs: number): string {
  if (lateMs === 0) return planWords.onPlan;
  const span = formatWords(Math.abs(lateMs));
  return lateMs > 0 ? planWords.behind(span) : planWords.ahead(span);
}

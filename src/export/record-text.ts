/** The record as plain text, one fact a line, for a terminal or a paste into a chart. */

import { unreachable } from '../base/assert.ts';
import { breachId, gapId, skippedId, voidedId } from '../engine/sign-list.ts';
import { approvers } from '../words/approval-words.ts';
import { placeWords } from '../words/correction-words.ts';
import { exportWords } from '../words/export-words.ts';
import { materialForms } from '../words/material-words.ts';
import { surfaceOn } from '../words/subject-words.ts';
import { type AgainstPlan, againstPlanLines } from './against-plan.ts';
import type { MaterialUse } from './export-source.ts';
import {
  about,
  anchorageLines,
  anchorLines,
  breachLine,
  breachWords,
  chainLine,
  correctionLine,
  gapLine,
  lengthWords,
  marginWords,
  secondsWords,
  subjectWords,
  type Telling,
  tellingOf,
  timesLine,
  told,
  wayBackLine,
} from './export-words.ts';
import { passLines, whenWords } from './pressed-words.ts';
import { asideSections } from './record-text-aside.ts';
import type { LightFact, ProtocolFact, RecordFacts, StepFact, UnitFact } from './record-types.ts';
import { aboutWords, withSaid } from './said-words.ts';
import { numberingLines, stoppedLines } from './stopped-words.ts';
import { tabletSections } from './tablets-words.ts';
import { signedWords, whoWords } from './who-words.ts';

interface Section {
  readonly title: string;
  readonly lines: readonly string[];
}

function lightLine(light: LightFact): string {
  const { label, irradianceMwPerCm2, tipDiameterMm, baselineMwPerCm2, driftPercent, readOn } =
    light;
  const drift = driftPercent === null ? '' : `${driftPercent > 0 ? '+' : ''}${driftPercent} %`;
  const baseline = `${baselineMwPerCm2} mW/cm2`;
  return told([
    exportWords.light(label),
    `${irradianceMwPerCm2} mW/cm2`,
    baselineMwPerCm2 === null ? null : exportWords.baseline({ baseline, drift }),
    exportWords.tip(`${tipDiameterMm} mm`),
    readOn === null ? null : exportWords.readOn(readOn),
  ]);
}

function protocolLine({ title, revision, approval }: ProtocolFact, tell: Telling): string {
  if (approval === null) return exportWords.unconfirmed({ title, revision });
  const on = tell.moment(approval.onLocal);
  return exportWords.confirmed({ title, revision, by: approvers(approval), on });
}

function unansweredLines({ unanswered }: ProtocolFact): string[] {
  return unanswered.map(({ reason, ...of }) =>
    exportWords.unanswered({ what: placeWords(of), reason }),
  );
}

function signedLine({ signOff }: RecordFacts, tell: Telling): string {
  if (signOff === null) return exportWords.unsigned;
  const { at, label, role } = signOff;
  const line = exportWords.signed({
    at: tell.instant(at),
    label,
    role: exportWords.roles[role],
  });
  return signedWords(signOff, line);
}

function followsLines({ follows }: RecordFacts, tell: Telling): string[] {
  if (follows === null) return [];
  const { caseId, lastExposureLocal } = follows;
  return [exportWords.follows({ caseId, at: tell.moment(lastExposureLocal) })];
}

function headSection(facts: RecordFacts): Section {
  const { protocol, room, people } = facts;
  const tell = tellingOf(facts);
  return {
    title: facts.title,
    lines: [
      exportWords.chartRef(facts.chartRef),
      facts.mode === 'rehearsal' ? exportWords.rehearsal : exportWords.patient,
      timesLine(facts),
      exportWords.opened(tell.moment(facts.openedLocal)),
      signedLine(facts, tell),
      protocolLine(protocol, tell),
      exportWords.protocolHash(protocol.hash),
      ...unansweredLines(protocol),
      exportWords.people(
        people.map(({ label, role }) =>
          exportWords.person({ label, role: exportWords.roles[role] }),
        ),
      ),
      lightLine(facts.light),
      told([
        exportWords.room(`${room.temperatureC} C`),
        room.lux === null ? null : `${room.lux} lx`,
      ]),
      ...followsLines(facts, tell),
      ...(facts.allergies === null ? [] : [exportWords.allergies(facts.allergies)]),
      ...(facts.note === null ? [] : [exportWords.note(facts.note)]),
    ],
  };
}

function unitLine(unit: UnitFact): string {
  const { together } = exportWords;
  const teeth = unit.teeth.map((t) =>
    told([t.fdi, t.name, t.isPontic ? exportWords.pontic : null], together),
  );
  return told([
    exportWords.unit({ id: unit.id, teeth: exportWords.both(teeth) }),
    unit.restoration,
    materialForms(unit.material).inLine,
    unit.thicknessMm === null ? null : `${unit.thicknessMm} mm`,
    unit.shade === null ? null : exportWords.shade(unit.shade),
  ]);
}

function unitsSection(facts: RecordFacts): Section {
  const tell = tellingOf(facts);
  const portions = facts.mixes.map(({ mix, units, beads }) => {
    const what = units.length === 0 ? exportWords.noUnits : exportWords.unitsOf(units);
    const found = beads.map((b) => exportWords.bead({ found: b.found, at: tell.instant(b.at) }));
    return exportWords.several([about(subjectWords(mix), what), ...found]);
  });
  const lines = [...facts.units.map(unitLine), ...portions];
  return { title: exportWords.sections.units, lines };
}

/** Slots that were used without any lot being named. */
function unnamedLines(facts: RecordFacts): string[] {
  const named = new Set(facts.materials.map((m) => m.slot));
  return facts.slots
    .filter(({ slot, usedFor }) => usedFor.length > 0 && !named.has(slot))
    .map((slot) => told([exportWords.material(slot), exportWords.noLot]));
}

function shadeLines(facts: RecordFacts): string[] {
  const tell = tellingOf(facts);
  return facts.shades.map((s) => {
    const share = s.sharePercent === null ? null : `${s.sharePercent} %`;
    return told([
      tell.instant(s.at),
      subjectWords(s.subject),
      told([s.paste, s.modifier, share], exportWords.together),
      exportWords.shadeResults[s.result],
      exportWords.judgedBy(s.judgedBy),
      s.note,
    ]);
  });
}

function materialLine(m: MaterialUse): string {
  const { together } = exportWords;
  const uses = m.usedFor.map((u) => told([u.step, subjectWords(u.subject)], together));
  return told([
    exportWords.material(m),
    m.lot === null ? exportWords.noLot : exportWords.lot(m.lot),
    m.expiresOn === null ? null : exportWords.expires(m.expiresOn),
    m.useBy === undefined ? null : exportWords.toUseBy(m.useBy),
    m.deviceIdentifier === null ? null : told([m.issuer, m.deviceIdentifier], together),
    ...m.remarks,
    uses.length === 0 ? null : exportWords.usedFor(uses),
  ]);
}

/** What was asked of a step: `asked 20 s and not below 15 s and not above 30 s`. */
function askedWords({ action, asked }: StepFact): string | null {
  const { minMs, maxMs, targetMs, count } = asked;
  if (count !== null) {
    return action === 'tally' ? exportWords.atMost(count) : exportWords.askedCount(count);
  }
  if (targetMs === null) return null;
  const target = secondsWords(targetMs);
  const min = minMs === null ? null : secondsWords(minMs);
  const max = maxMs === null ? null : secondsWords(maxMs);
  const { both, least, most } = exportWords.askedLimits;
  if (min !== null && max !== null) return both({ target, min, max });
  if (min !== null) return least({ target, min });
  return max === null ? exportWords.asked(target) : most({ target, max });
}

function givenWords({ surfaces, teeth }: StepFact): string {
  return exportWords.given(
    surfaces.map((s) =>
      exportWords.givenOn({
        surface: surfaceOn(s.surface, teeth),
        given: secondsWords(s.givenMs),
        set: secondsWords(s.setMs),
      }),
    ),
  );
}

function happenedWords(step: StepFact): string | null {
  switch (step.action) {
    case 'dwell':
      return step.elapsed && step.status === 'done'
        ? exportWords.elapsed(lengthWords(step.elapsed))
        : null;
    case 'coats':
      return exportWords.coats(step.counts.length);
    case 'tally':
      return exportWords.passes(step.counts.length);
    case 'expose':
      return givenWords(step);
    case 'choose':
      return told([step.optionLabel ?? step.option, step.evidence], exportWords.several);
    case 'confirm':
    case null:
      return step.evidence;
    default:
      return unreachable(step.action);
  }
}

/** Why it was skipped, and what was said of that at the signature. */
function becauseWords(facts: RecordFacts, { reason, status }: StepFact): string | null {
  if (reason === null) return null;
  const because = exportWords.because(reason);
  return status === 'skipped' ? withSaid(facts, skippedId(reason), because) : because;
}

function stepLine(facts: RecordFacts, step: StepFact, tell: Telling): string {
  const { shortByMs, overByMs, shortPerhaps, overPerhaps, betweenShortByMs } = step;
  const shortKind = step.action === 'expose' ? 'exposure-short' : 'short';
  const betweenKind = step.action === 'expose' ? 'rest-short' : 'gap-short';
  return told([
    step.title,
    subjectWords(step.subject),
    exportWords.status[step.status],
    happenedWords(step),
    askedWords(step),
    shortByMs > 0 ? breachWords({ kind: shortKind, by: shortByMs, perhaps: shortPerhaps }) : null,
    overByMs === 0 ? null : breachWords({ kind: 'over', by: overByMs, perhaps: overPerhaps }),
    betweenShortByMs > 0
      ? breachWords({ kind: betweenKind, by: betweenShortByMs, perhaps: step.betweenPerhaps })
      : null,
    becauseWords(facts, step),
    whenWords(step, tell),
    whoWords(step),
  ]);
}

function stepSections(facts: RecordFacts): Section[] {
  const tell = tellingOf(facts);
  const { sections } = exportWords;
  return [
    { title: sections.steps, lines: facts.steps.map((s) => stepLine(facts, s, tell)) },
    { title: sections.passes, lines: passLines(facts, tell) },
    {
      title: sections.voided,
      lines: facts.voided.map((v) =>
        exportWords.voidedBecause({ step: stepLine(facts, v, tell), reason: v.voidedBecause }),
      ),
    },
    {
      title: sections.undone,
      lines: facts.undone.map((u) => told([u.title, subjectWords(u.subject)])),
    },
    {
      title: sections.windows,
      lines: facts.windows.map((w) => {
        const state = exportWords.windowStates[w.state];
        const of = told([w.title, subjectWords(w.subject)]);
        const margins = marginWords(w);
        return about(of, margins === '' ? state : about(state, margins));
      }),
    },
  ];
}

function changeSections(facts: RecordFacts): Section[] {
  const tell = tellingOf(facts);
  const { sections } = exportWords;
  const breachLines = (perhaps: boolean): string[] =>
    facts.breaches
      .filter((b) => b.perhaps === perhaps)
      .map((b) => withSaid(facts, breachId(b), breachLine(b)));
  return [
    { title: sections.stopped, lines: stoppedLines(facts.stopped, tell) },
    { title: sections.numberings, lines: numberingLines(facts.numberings, tell) },
    { title: sections.breaches, lines: breachLines(false) },
    { title: sections.mayBeBroken, lines: breachLines(true) },
    {
      title: sections.waysBack,
      lines: facts.waysBack.map((w) => withSaid(facts, voidedId(w.pressed.press), wayBackLine(w))),
    },
    { title: sections.corrections, lines: facts.corrections.map((c) => correctionLine(c, tell)) },
    {
      title: sections.gaps,
      lines: facts.gaps.map((g) => withSaid(facts, gapId(g.seq), gapLine(g, tell))),
    },
    {
      title: sections.notes,
      lines: facts.notes.map(({ at, words, about: of, pressed, isLate }) => {
        const after = isLate ? exportWords.noteAfterSigning : null;
        const what = of ? about(aboutWords(facts, of, tell), words) : words;
        return about(told([tell.instant(at), after, pressed.by]), what);
      }),
    },
  ];
}

function logSection(facts: RecordFacts): Section {
  const { chain } = facts;
  return {
    title: exportWords.sections.log,
    lines: [
      chainLine(chain),
      ...(chain.head === null ? [] : [exportWords.head(chain.head)]),
      ...anchorLines(chain),
      ...anchorageLines(chain, tellingOf(facts)),
    ],
  };
}

/** A line break inside the words of people stays inside their line. */
const oneLine = (line: string): string => line.replaceAll(/\s*[\r\n\u2028\u2029]+\s*/g, ' / ');

function planSection(facts: RecordFacts, against: AgainstPlan | null): Section {
  const lines = against === null ? [] : againstPlanLines(against, facts.signOff !== null);
  return { title: exportWords.sections.plan, lines };
}

/**
 * The record as text, sections divided by empty lines; sections without facts are left out. `against`
 * is null where nothing is to be compared with.
 */
export function recordText(facts: RecordFacts, against: AgainstPlan | null = null): string {
  const sections = [
    headSection(facts),
    unitsSection(facts),
    {
      title: exportWords.sections.materials,
      lines: [...facts.materials.map(materialLine), ...unnamedLines(facts)],
    },
    { title: exportWords.sections.shades, lines: shadeLines(facts) },
    ...asideSections(facts),
    ...stepSections(facts),
    ...changeSections(facts),
    ...tabletSections(facts, tellingOf(facts)),
    planSection(facts, against),
    logSection(facts),
    { title: '', lines: [exportWords.govern] },
  ];
  const blocks = sections
    .filter(({ lines }) => lines.length > 0)
    .map(({ title, lines }) =>
      [...(title === '' ? [] : [oneLine(title)]), ...lines.map((l) => `  ${oneLine(l)}`)].join(
        '\n',
      ),
    );
  return `${blocks.join('\n\n')}\n`;
}

/** The record as plain text, one fact a line, for a terminal or a paste into a chart. */
import { type AgainstPlan, againstPlanLines } from './against-plan.ts';
import {
  breachLine,
  byWords,
  chainLine,
  correctionLine,
  GOVERN,
  gapLine,
  instantWords,
  lengthWords,
  marginWords,
  REHEARSAL,
  secondsWords,
  subjectWords,
  utcWords,
  wayBackLine,
} from './export-words.ts';
import type { LightFact, RecordFacts, StepFact, UnitFact } from './record-types.ts';

interface Section {
  readonly title: string;
  readonly lines: readonly string[];
}

const told = (parts: readonly (string | null)[], by = ', '): string =>
  parts.filter((part) => part !== null && part !== '').join(by);

function lightLine(light: LightFact): string {
  const { label, irradianceMwPerCm2, tipDiameterMm, baselineMwPerCm2, driftPercent, readOn } =
    light;
  const drift = driftPercent === null ? null : `${driftPercent > 0 ? '+' : ''}${driftPercent} %`;
  return told([
    `Light: ${label}`,
    `${irradianceMwPerCm2} mW/cm2`,
    baselineMwPerCm2 === null ? null : `baseline ${baselineMwPerCm2} mW/cm2 (${drift})`,
    `tip ${tipDiameterMm} mm`,
    readOn === null ? null : `read on ${readOn}`,
  ]);
}

function headSection(facts: RecordFacts): Section {
  const { protocol, signOff, room } = facts;
  const approval = protocol.approval
    ? `confirmed by ${protocol.approval.by} on ${utcWords(protocol.approval.onUtc)}`
    : 'not confirmed by the clinic';
  return {
    title: facts.title,
    lines: [
      `Chart reference: ${facts.chartRef}`,
      facts.mode === 'rehearsal' ? REHEARSAL : 'Patient case',
      `Opened: ${utcWords(facts.openedUtc)}`,
      signOff
        ? `Signed: ${instantWords(signOff.at)}, ${signOff.label} (${signOff.role})`
        : 'Not signed yet',
      `Protocol: ${protocol.title}, revision ${protocol.revision}, ${approval}`,
      `Hash of the protocol: ${protocol.hash}`,
      `People: ${facts.people.map((p) => `${p.label} (${p.role})`).join(', ')}`,
      lightLine(facts.light),
      told([`Room: ${room.temperatureC} C`, room.lux === null ? null : `${room.lux} lx`]),
      ...(facts.follows === null
        ? []
        : [
            `Goes on from case ${facts.follows.caseId}, last exposure ${utcWords(facts.follows.lastExposureUtc)}`,
          ]),
      ...(facts.allergies === null ? [] : [`Allergies: ${facts.allergies}`]),
      ...(facts.note === null ? [] : [`Note: ${facts.note}`]),
    ],
  };
}

function unitLine(unit: UnitFact): string {
  const teeth = unit.teeth
    .map((t) => told([t.fdi, t.name, t.isPontic ? '(pontic)' : null], ' '))
    .join(' and ');
  return told([
    `unit ${unit.id}: ${teeth}`,
    unit.restoration,
    unit.material,
    unit.thicknessMm === null ? null : `${unit.thicknessMm} mm`,
    unit.shade === null ? null : `shade ${unit.shade}`,
  ]);
}

function unitsSection(facts: RecordFacts): Section {
  const mixes = facts.mixes.map(({ mix, units, beads }) =>
    told(
      [
        `${subjectWords(mix)}: ${units.length === 0 ? 'no units left' : `units ${units.join(', ')}`}`,
        ...beads.map((b) => `bead ${b.found} at ${instantWords(b.at)}`),
      ],
      '; ',
    ),
  );
  return { title: 'Units and mixes', lines: [...facts.units.map(unitLine), ...mixes] };
}

/** Slots that were used without any lot being named. */
function unnamedLines(facts: RecordFacts): string[] {
  const named = new Set(facts.materials.map((m) => m.slot));
  return facts.slots
    .filter(({ slot, usedFor }) => usedFor.length > 0 && !named.has(slot))
    .map(({ label, materialClass }) => `${label} (${materialClass}), lot not recorded`);
}

function shadeLines(facts: RecordFacts): string[] {
  return facts.shades.map((s) =>
    told([
      instantWords(s.at),
      subjectWords(s.subject),
      told([s.paste, s.modifier, s.sharePercent === null ? null : `${s.sharePercent} %`], ' '),
      s.result,
      `judged by ${s.judgedBy}`,
      s.note,
    ]),
  );
}

function materialLines(facts: RecordFacts): string[] {
  return facts.materials.map((m) =>
    told([
      `${m.label} (${m.materialClass})`,
      m.lot === null ? 'lot not recorded' : `lot ${m.lot}`,
      m.expiresOn === null ? null : `expires ${m.expiresOn}`,
      m.deviceIdentifier === null ? null : `${m.issuer ?? ''} ${m.deviceIdentifier}`.trim(),
      ...m.remarks,
      m.usedFor.length === 0
        ? null
        : `for ${m.usedFor.map((u) => told([u.step, subjectWords(u.subject)], ' ')).join('; ')}`,
    ]),
  );
}

/** What was asked of a step: `asked 20 s, 15 s to 30 s`. */
function askedWords({ action, asked }: StepFact): string | null {
  const { minMs, maxMs, targetMs, count } = asked;
  if (count !== null) return action === 'tally' ? `at most ${count}` : `asked ${count}`;
  if (targetMs === null) return null;
  const least = minMs === null ? null : `not below ${secondsWords(minMs)}`;
  const most = maxMs === null ? null : `not above ${secondsWords(maxMs)}`;
  return told([`asked ${secondsWords(targetMs)}`, least, most], ' and ');
}

function happenedWords(step: StepFact): string | null {
  switch (step.action) {
    case 'dwell':
      return step.elapsed && step.status === 'done' ? `${lengthWords(step.elapsed)} elapsed` : null;
    case 'coats':
      return `${step.counts.length} coats`;
    case 'tally':
      return `${step.counts.length} passes`;
    case 'expose':
      return `exposure given ${step.surfaces.map((s) => `${s.surface} ${secondsWords(s.givenMs)} of ${secondsWords(s.setMs)}`).join(', ')}`;
    case 'choose':
      return told([step.optionLabel ?? step.option, step.evidence], '; ');
    case 'confirm':
    case null:
      return step.evidence;
    default:
      return null;
  }
}

function stepLine(step: StepFact): string {
  const at = step.end?.at ?? step.start?.at;
  const over = step.overByMs === 0 ? null : `over the maximum by ${byWords(step.overByMs)}`;
  const short =
    step.shortByMs > 0 ? `short of the minimum by ${secondsWords(step.shortByMs)}` : null;
  return told([
    told([step.title, subjectWords(step.subject)], ', '),
    step.status === 'done' ? null : step.status,
    happenedWords(step),
    askedWords(step),
    short,
    over,
    step.reason === null ? null : `because ${step.reason}`,
    at ? instantWords(at) : null,
    step.by,
  ]);
}

function stepSections(facts: RecordFacts): Section[] {
  return [
    { title: 'Steps', lines: facts.steps.map(stepLine) },
    {
      title: 'Runs that no longer count',
      lines: facts.voided.map((v) => `${stepLine(v)}; voided because ${v.voidedBecause}`),
    },
    {
      title: 'Not done',
      lines: facts.undone.map((u) => told([u.title, subjectWords(u.subject)])),
    },
    {
      title: 'Windows',
      lines: facts.windows.map((w) =>
        told([told([w.title, subjectWords(w.subject)]), w.state, marginWords(w)], ': '),
      ),
    },
  ];
}

function changeSections(facts: RecordFacts): Section[] {
  return [
    { title: 'Bounds that were not kept', lines: facts.breaches.map(breachLine) },
    { title: 'Ways back', lines: facts.waysBack.map(wayBackLine) },
    { title: 'Corrections', lines: facts.corrections.map(correctionLine) },
    { title: 'Times nobody watched the clocks', lines: facts.gaps.map(gapLine) },
    {
      title: 'Notes',
      lines: facts.notes.map(({ at, words, pressed, isLate }) =>
        told([instantWords(at), isLate ? 'after the signature' : null, pressed.by]).concat(
          `: ${words}`,
        ),
      ),
    },
  ];
}

function logSection({ chain }: RecordFacts): Section {
  return {
    title: 'Log',
    lines: [
      chainLine(chain),
      ...(chain.head === null ? [] : [`Hash of the last entry: ${chain.head}`]),
    ],
  };
}

/** A line break inside the words of people stays inside their line. */
const oneLine = (line: string): string => line.replaceAll(/\s*[\r\n\u2028\u2029]+\s*/g, ' / ');

function planSection(facts: RecordFacts, against: AgainstPlan | null): Section {
  const lines = against === null ? [] : againstPlanLines(against, facts.signOff !== null);
  return { title: 'Against the plan it was opened with, minutes from the opening', lines };
}

/**
 * The record as text, sections divided by empty lines; sections without facts are left out. `against`
 * is null where nothing is to be compared with.
 */
export function recordText(facts: RecordFacts, against: AgainstPlan | null = null): string {
  const sections = [
    headSection(facts),
    unitsSection(facts),
    { title: 'Materials', lines: [...materialLines(facts), ...unnamedLines(facts)] },
    { title: 'Shades tried', lines: shadeLines(facts) },
    ...stepSections(facts),
    ...changeSections(facts),
    planSection(facts, against),
    logSection(facts),
    { title: '', lines: [GOVERN] },
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

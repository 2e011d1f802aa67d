/**
 * The light each unit is planned to receive, against published temperature rises: a caution with
 * its uncertainty, never a statement about a pulp. Exposures are counted at the full output of the
 * light: the published rises were measured so, through what lay between tip and pulp. Times in ms, output in mW/cm2.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import { type HeatCaution, heatCalc, heatCaution } from '../calc/heat.ts';
import { bareId, type SubjectId, type Subjects, scopeOf } from '../protocol/subjects.ts';
import type { Protocol } from '../protocol/types.ts';
import { expectedMs } from './activity.ts';
import { type Execution, ForwardPass } from './execution.ts';
import { type Explained, type Explanation, explain, sourceOf } from './explanation.ts';

export interface UnitHeat extends HeatCaution {
  /** Bare id of the unit; of the tooth where each tooth is lit by itself. */
  readonly unit: string;
  readonly subject: SubjectId;
}

interface Lit {
  readonly startSeconds: number;
  readonly seconds: number;
  readonly irradianceMwPerCm2: number;
}

/** Longest rest that any exposing step asks for, in s. */
function restSeconds(protocol: Protocol): number {
  const rests = protocol.steps.map((s) =>
    s.action.kind === 'expose' ? (s.action.restMs?.value ?? 0) : 0,
  );
  return Math.max(0, ...rests) / MS_PER_SECOND;
}

/** Whose light is added up: each unit's, or each tooth's where any step lights teeth by themselves. */
function warmedBy(
  protocol: Protocol,
  subjects: Subjects,
): (subject: SubjectId) => readonly SubjectId[] {
  const isByTooth = protocol.steps.some((s) => s.action.kind === 'expose' && s.per === 'tooth');
  return (subject) => subjects.linked(subject, isByTooth ? 'tooth' : 'unit');
}

function exposuresBySubject(
  execution: Execution,
  irradianceMwPerCm2: number,
  warmed: (subject: SubjectId) => readonly SubjectId[],
): Map<SubjectId, Lit[]> {
  const { tasks } = execution.activities;
  const pass = new ForwardPass(execution);
  pass.lengthMs.set(tasks.map((task) => Math.round(expectedMs(task))));
  pass.run();
  const found = new Map<string, Lit[]>();
  tasks.forEach((task, i) => {
    const subject = task.subjects[0];
    if (task.part !== 'light' || task.fixedMs === 0 || subject === undefined) return;
    const litMs = (pass.startMs[i] ?? 0) + (pass.lengthMs[i] ?? 0) - task.fixedMs;
    const lit = {
      startSeconds: litMs / MS_PER_SECOND,
      seconds: task.fixedMs / MS_PER_SECOND,
      irradianceMwPerCm2,
    };
    for (const each of warmed(subject)) found.set(each, [...(found.get(each) ?? []), lit]);
  });
  return found;
}

const tenths = (range: readonly [number, number]): readonly number[] =>
  range.map((riseC) => Math.round(riseC * 10) / 10);

/** The estimates beside the sum: they, not the sum, are held against the marker. */
function riseInputs(caution: HeatCaution) {
  return {
    riseInVivoC: tenths(caution.riseC.inVivo),
    riseInVitroC: tenths(caution.riseC.inVitro),
    markerC: caution.markerC,
    level: caution.level,
  };
}

/** Heat caution of each unit that receives light in what is planned. */
export function heatOf(o: {
  readonly execution: Execution;
  readonly protocol: Protocol;
  readonly subjects: Subjects;
  readonly irradianceMwPerCm2: number;
}): Explained<readonly UnitHeat[]> {
  const rest = restSeconds(o.protocol);
  const why: Explanation[] = [];
  const heat: UnitHeat[] = [];
  const warmed = warmedBy(o.protocol, o.subjects);
  for (const [subject, lit] of exposuresBySubject(o.execution, o.irradianceMwPerCm2, warmed)) {
    const exposures = lit.toSorted((a, b) => a.startSeconds - b.startSeconds);
    const input = { exposures, restSeconds: rest };
    const caution = heatCaution(input);
    if (!caution.ok) continue;
    const unit = bareId(subject);
    heat.push({ unit, subject, ...caution.value });
    why.push(
      explain({
        id: `heat/${scopeOf(subject) === 'tooth' ? subject : unit}`,
        value: caution.value.radiantExposureJPerCm2,
        unit: 'J/cm2',
        formula: 'light-on-one-tooth',
        inputs: {
          irradianceMwPerCm2: o.irradianceMwPerCm2,
          lightSeconds: exposures.reduce((sum, each) => sum + each.seconds, 0),
          exposures: exposures.length,
          ...riseInputs(caution.value),
        },
        source: sourceOf(heatCalc, input),
        calc: { name: heatCalc.name, input },
        decidedBy: 'arithmetic',
      }),
    );
  }
  return { value: heat, why };
}

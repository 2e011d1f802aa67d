/**
 * The light each unit is planned to receive, against published temperature rises: a caution with
 * its uncertainty, never a statement about a pulp. Exposures are counted at the full output of the
 * light: the published rises were measured so, through what lay between tip and pulp. Times in ms, output in mW/cm2.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import { type HeatCaution, heatCalc, heatCaution } from '../calc/heat.ts';
import { bareId } from '../protocol/subjects.ts';
import type { Protocol } from '../protocol/types.ts';
import { expectedMs } from './activity.ts';
import { type Execution, ForwardPass } from './execution.ts';
import { type Explained, type Explanation, explain, sourceOf } from './explanation.ts';

export interface UnitHeat extends HeatCaution {
  readonly unit: string;
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

function exposuresByUnit(execution: Execution, irradianceMwPerCm2: number): Map<string, Lit[]> {
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
    found.set(bareId(subject), [...(found.get(bareId(subject)) ?? []), lit]);
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
  readonly irradianceMwPerCm2: number;
}): Explained<readonly UnitHeat[]> {
  const rest = restSeconds(o.protocol);
  const why: Explanation[] = [];
  const heat: UnitHeat[] = [];
  for (const [unit, lit] of exposuresByUnit(o.execution, o.irradianceMwPerCm2)) {
    const exposures = lit.toSorted((a, b) => a.startSeconds - b.startSeconds);
    const input = { exposures, restSeconds: rest };
    const caution = heatCaution(input);
    if (!caution.ok) continue;
    heat.push({ unit, ...caution.value });
    why.push(
      explain({
        id: `heat/${unit}`,
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

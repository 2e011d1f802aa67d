/**
 * What a change of a protocol does to one case: the same case planned with both documents, with the
 * same dice, so that every difference comes from the change. Times in ms.
 */
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import { makePlan } from './make-plan.ts';
import type { PlanTables } from './plan-tables.ts';

/** A quantity before and after; null where the window is not there or nothing bounds it. */
interface BeforeAfter {
  readonly before: number | null;
  readonly after: number | null;
}

interface WindowEffect {
  /** Window id, or step id for the limit of a dwell. */
  readonly id: string;
  readonly title: string;
  /** Room left in the worst tenth of the draws, the tightest subject; negative is late. */
  readonly slackMs: BeforeAfter;
  /** Share of the draws in which it is broken, from 0 to 1. */
  readonly pBroken: BeforeAfter;
}

export interface PlanEffect {
  readonly chairMs: { readonly before: number; readonly after: number };
  /** The chair time that nine of ten draws stay under. */
  readonly chairP90Ms: { readonly before: number; readonly after: number };
  /** Share of the draws in which anything is broken. */
  readonly pAnyBroken: { readonly before: number; readonly after: number };
  readonly windows: readonly WindowEffect[];
}

interface Side {
  readonly chairMs: number;
  readonly chairP90Ms: number;
  readonly pAnyBroken: number;
  readonly slackMs: ReadonlyMap<string, number>;
  readonly pBroken: Readonly<Record<string, number>>;
}

/** A pace that the change is about is not hidden behind the people's own. */
function withoutChanged(o: EffectInput): CaseFile {
  const paceOf = ({ steps }: Protocol, id: string) => {
    const pace = steps.find((step) => step.id === id)?.pace;
    return [pace?.medianMs, pace?.p90Ms, pace?.perSubjectMs].map((each) => each?.value).join(' ');
  };
  const { paces, ...spec } = o.spec;
  if (paces === undefined) return spec;
  return {
    ...spec,
    paces: paces.filter(({ step }) => paceOf(o.before, step) === paceOf(o.after, step)),
  };
}

function sideOf(o: EffectInput, protocol: Protocol): Side {
  const { risk, timeline } = makePlan({
    spec: withoutChanged(o),
    protocol,
    tables: o.tables,
    risk: { seed: o.seed, samples: o.samples },
  });
  const slackMs = new Map<string, number>();
  for (const band of risk.bands) {
    slackMs.set(band.of, Math.min(slackMs.get(band.of) ?? Infinity, band.slackP10Ms));
  }
  return {
    chairMs: timeline.chairMs,
    chairP90Ms: risk.chair.p90Ms,
    pAnyBroken: risk.pAnyBroken,
    slackMs,
    pBroken: risk.pBrokenByWindow,
  };
}

function titlesOf(...protocols: readonly Protocol[]): ReadonlyMap<string, string> {
  return new Map(
    protocols.flatMap(({ steps, windows }) =>
      [...steps, ...windows].map(({ id, title }): [string, string] => [id, title]),
    ),
  );
}

export interface EffectInput {
  readonly spec: CaseFile;
  readonly before: Protocol;
  readonly after: Protocol;
  readonly tables: PlanTables | null;
  readonly seed: number;
  readonly samples: number;
}

/** Plans the case with both. Both protocols must be free of faults of meaning. */
export function planEffect(o: EffectInput): PlanEffect {
  const [before, after] = [sideOf(o, o.before), sideOf(o, o.after)];
  const titles = titlesOf(o.before, o.after);
  const ids = [...new Set([...before.slackMs.keys(), ...after.slackMs.keys()])];
  return {
    chairMs: { before: before.chairMs, after: after.chairMs },
    chairP90Ms: { before: before.chairP90Ms, after: after.chairP90Ms },
    pAnyBroken: { before: before.pAnyBroken, after: after.pAnyBroken },
    windows: ids.map((id) => ({
      id,
      title: titles.get(id) ?? id,
      slackMs: { before: before.slackMs.get(id) ?? null, after: after.slackMs.get(id) ?? null },
      pBroken: { before: before.pBroken[id] ?? null, after: after.pBroken[id] ?? null },
    })),
  };
}

/** One unit on tooth 36 in each dual-cured family, and what the case file says of it. */
import { buildLayout, type Layout } from '../../src/engine/layout.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile, Unit } from '../../src/protocol/case-types.ts';
import type { Substrate } from '../../src/protocol/facts.ts';
import type { Figure, Protocol } from '../../src/protocol/types.ts';
import { caseNamed, FAMILIES, protocolNamed } from './family-chair.ts';

export const DUAL = ['glass-ceramic', 'zirconia', 'composite'] as const;
export type Dual = (typeof DUAL)[number];

export const protocolOf = (family: Dual): Protocol =>
  protocolNamed(caseNamed(FAMILIES[family]).protocol);

export interface Asked {
  readonly substrate?: readonly Substrate[];
  readonly choices?: Readonly<Record<string, string>>;
  readonly unit?: Partial<Unit>;
  readonly provisional?: NonNullable<CaseFile['teeth']>[number]['provisional'];
}

/** One unit on tooth 36 that shows this; what is not said is sound enamel and an untouched unit. */
export function specOf(family: Dual, asked: Asked = {}): CaseFile {
  const spec = caseNamed(FAMILIES[family]);
  const [first] = spec.units;
  const unit = { ...first, id: '36', teeth: ['36'], conditioned: 'no', ...asked.unit } as Unit;
  const { pontics: _, ...single } = unit;
  const { substrate = ['enamel'], provisional = 'none', choices = {} } = asked;
  const teeth = [{ tooth: '36', substrate, provisional }];
  return { ...spec, units: [asked.unit?.pontics ? unit : single], teeth, choices };
}

export function layoutFor(family: Dual, asked: Asked = {}): Layout {
  const spec = specOf(family, asked);
  const protocol = protocolOf(family);
  return buildLayout({ spec, protocol }, makeRunPlan(spec, protocol));
}

const SUBJECT: Readonly<Record<string, string>> = {
  tooth: 'tooth:36',
  unit: 'unit:36',
  case: 'case',
};

export function stepAsked(family: Dual, id: string, asked: Asked) {
  const layout = layoutFor(family, asked);
  const per = layout.protocol.steps.find((step) => step.id === id)?.per ?? '';
  return layout.byKey.get(`${id}@${SUBJECT[per]}`)?.step;
}

export const seconds = (figure: Figure | undefined) =>
  figure === undefined ? null : figure.value / 1000;
export const word = (figure: Figure | undefined) => {
  if (figure === undefined) return null;
  return figure.basis.kind === 'published' ? figure.basis.source : figure.basis.kind;
};

export const shows = (...substrate: Substrate[]): Asked => ({ substrate });
export const took = (choice: string, option: string, more: Asked = {}): Asked => ({
  ...more,
  choices: { [choice]: option },
});
export const windowOf = (family: Dual, id: string) => {
  const found = protocolOf(family).windows.find((window) => window.id === id);
  if (found === undefined) throw new Error(`${family} has no ${id}`);
  return found;
};

export const ETCHED_BEFORE: Asked = {
  unit: { material: 'lithium-disilicate', conditioned: 'etched' },
};

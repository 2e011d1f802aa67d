/**
 * Small protocols for tests, written as short as the thing they show. Numbers are invented and
 * carry "practice" as their basis; times are given in seconds and stored in milliseconds.
 */
import { present } from '../../src/base/assert.ts';
import { deepFreeze } from '../../src/base/freeze.ts';
import type { RunPlan } from '../../src/engine/run-plan-types.ts';
import { fewestPlan } from '../../src/plan/grouping.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type {
  Action,
  Figure,
  Protocol,
  Scope,
  Step,
  WayBack,
  Window,
} from '../../src/protocol/types.ts';

const figure = (value: number): Figure => ({ value, basis: { kind: 'practice' } });
export const secondsFigure = (seconds: number): Figure => figure(seconds * 1000);

type StepMore = Partial<Omit<Step, 'id' | 'per' | 'action' | 'hands' | 'after'>> & {
  /** `step`, `step/link` or `step/link/edge`; the link is `all` when left out. */
  readonly after?: readonly string[];
  readonly paceSeconds?: number;
  /** What each subject of a press takes beside it. */
  readonly perSubjectSeconds?: number;
  /** Seconds per subject of the two rhythms of the hands. */
  readonly hands?: readonly [applySeconds: number, rinseSeconds: number];
};

function afterOf(text: string): Step['after'][number] {
  const [step = '', link = 'all', edge] = text.split('/');
  return { step, link: link as 'all', ...(edge ? { edge: edge as 'start' } : {}) };
}

/** One step; everything that is not said is the plainest possible. */
export function step(id: string, per: Scope, action: Action, more: StepMore = {}): Step {
  const { after = [], paceSeconds = 5, perSubjectSeconds, hands, ...rest } = more;
  const pace = {
    medianMs: secondsFigure(paceSeconds),
    p90Ms: secondsFigure(paceSeconds * 1.5),
    ...(perSubjectSeconds === undefined ? {} : { perSubjectMs: secondsFigure(perSubjectSeconds) }),
  };
  return {
    id,
    stage: 'work',
    title: id,
    per,
    by: 'either',
    action,
    pace,
    after: after.map(afterOf),
    ...(hands
      ? { hands: { applyMs: secondsFigure(hands[0]), rinseMs: secondsFigure(hands[1]) } }
      : {}),
    ...rest,
  };
}

export const confirm: Action = { kind: 'confirm' };

export function dwell(minS: number | null, targetS: number, maxS: number | null = null): Action {
  return {
    kind: 'dwell',
    ...(minS === null ? {} : { minMs: secondsFigure(minS) }),
    targetMs: secondsFigure(targetS),
    ...(maxS === null ? {} : { maxMs: secondsFigure(maxS) }),
  };
}

export function coats(count: number, gapS: number | null = null): Action {
  return {
    kind: 'coats',
    count: figure(count),
    ...(gapS === null ? {} : { gapMsMin: secondsFigure(gapS) }),
  };
}

export function expose(o: {
  readonly surfaces: Extract<Action, { kind: 'expose' }>['surfaces'];
  readonly seconds: number;
  readonly restSeconds?: number;
  readonly walk?: 'by-surface' | 'by-unit';
}): Action {
  return {
    kind: 'expose',
    surfaces: o.surfaces,
    perSurfaceMs: secondsFigure(o.seconds),
    walk: o.walk ?? 'by-surface',
    ...(o.restSeconds === undefined ? {} : { restMs: secondsFigure(o.restSeconds) }),
  };
}

export const tally = (passesMax: number): Action => ({
  kind: 'tally',
  passesMax: figure(passesMax),
  label: 'passes',
});

export const choose = (...options: { id: string; redo?: readonly string[] }[]): Action => ({
  kind: 'choose',
  options: options.map((o) => ({ label: o.id, ...o })),
});

/** A window written `etch/end -> rinse/start`. */
export function window(
  id: string,
  between: string,
  o: Partial<Window> & { readonly minS?: number; readonly maxS?: number },
): Window {
  const [from, to] = between.split(' -> ').map((moment) => {
    const [name = '', edge] = moment.split('/');
    return { step: name, edge: edge as 'start' };
  });
  const { minS, maxS, ...rest } = o;
  return {
    id,
    title: id,
    from: present(from, between),
    to: present(to, between),
    match: 'same',
    protects: 'other',
    severity: 'warning',
    ...(minS === undefined ? {} : { minMs: secondsFigure(minS) }),
    ...(maxS === undefined ? {} : { maxMs: secondsFigure(maxS) }),
    ...rest,
  };
}

/** A protocol that parses and that the check finds no error in; anything else is a broken test. */
export function protocolOf(
  steps: readonly Step[],
  more: Partial<Pick<Protocol, 'windows' | 'waysBack' | 'lists'>> = {},
): Protocol {
  const parsed = parseProtocol({
    format: 'lutewatch-protocol',
    formatVersion: 1,
    id: 'tiny',
    revision: 1,
    title: 'Tiny',
    summary: 'A tiny protocol for tests.',
    restorations: ['veneer'],
    sources: [],
    cautions: [],
    slots: [],
    stages: [{ id: 'work', title: 'Work' }],
    steps,
    windows: more.windows ?? [],
    waysBack: more.waysBack ?? [],
    ...(more.lists === undefined ? {} : { lists: more.lists }),
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error, null, 1));
  const faults = checkProtocol(parsed.value).filter((f) => f.level === 'error');
  if (faults.length > 0) throw new Error(JSON.stringify(faults));
  return parsed.value;
}

/** A case with one veneer on each of these teeth, seated in this order. */
export function caseOf(teeth: readonly string[]): CaseFile {
  const parsed = parseCase({
    format: 'lutewatch-case',
    formatVersion: 1,
    id: 'tiny-case',
    chartRef: 'SB-0001',
    title: 'Tiny case',
    notation: 'fdi',
    protocol: 'tiny',
    units: teeth.map((tooth) => ({
      id: tooth,
      teeth: [tooth],
      restoration: 'veneer',
      material: 'lithium-disilicate',
    })),
    people: [
      { id: 'dentist-a', label: 'Dentist A', role: 'dentist' },
      { id: 'assistant-b', label: 'Assistant B', role: 'assistant' },
    ],
    room: { temperatureC: 22 },
    light: { label: 'Light 1', irradianceMwPerCm2: 1200, tipDiameterMm: 9 },
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error, null, 1));
  return parsed.value;
}

export interface Setting {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly plan: RunPlan;
}

/** A case of these teeth under this protocol, with the plan as computed or as given. */
export function settingOf(
  protocol: Protocol,
  teeth: readonly string[],
  plan: Partial<RunPlan> = {},
): Setting {
  const spec = caseOf(teeth);
  return deepFreeze({ spec, protocol, plan: { ...fewestPlan(spec, protocol), ...plan } });
}

/** Etch tooth by tooth, rinse the round together: the plain round that most tests use. */
export const ETCH_ROUND = protocolOf([
  step('ready', 'case', confirm),
  step('etch', 'tooth', dwell(15, 20, 30), { after: ['ready'], hands: [4, 4] }),
  step('rinse', 'tooth', dwell(10, 15), {
    after: ['etch/same'],
    together: true,
    roundOf: 'etch',
    beginsWith: 'etch',
    paceSeconds: 15,
  }),
  step('dry', 'tooth', confirm, { after: ['rinse'], together: true }),
]);

/** The way back of an etched tooth that became wet before the start of `until`. */
export const saliva = (o: {
  readonly until: string;
  readonly voids: readonly string[];
}): WayBack => ({
  id: 'wet',
  title: 'Saliva on an etched tooth',
  mishap: 'saliva',
  per: 'tooth',
  from: { step: 'etch', edge: 'end' },
  until: { step: o.until, edge: 'start' },
  voids: o.voids.map((id) => ({ step: id, link: 'same' })),
  proposal: 'Etch this tooth again.',
  basis: { kind: 'practice' },
});

/** Every action, every link, windows and ways back in a dozen steps. */
export const SMALL_WHOLE = protocolOf(
  [
    step('ready', 'case', confirm),
    step('fit', 'unit', confirm, { after: ['ready'], together: true }),
    step('shade', 'case', choose({ id: 'accepted' }, { id: 'again', redo: ['fit', 'shade'] }), {
      after: ['fit'],
    }),
    step('etch', 'tooth', dwell(15, 20, 30), { after: ['shade'], hands: [4, 4] }),
    step('rinse', 'tooth', dwell(10, 15), {
      after: ['etch/same'],
      together: true,
      roundOf: 'etch',
      beginsWith: 'etch',
      paceSeconds: 15,
    }),
    step('dry', 'tooth', confirm, { after: ['rinse'], together: true }),
    step('coats', 'tooth', coats(2, 3), { after: ['dry'], together: true }),
    step('cement', 'mix', confirm, { after: ['coats', 'tack/previous'] }),
    step('load', 'unit', confirm, { after: ['cement/linked', 'seat/previous'] }),
    step('seat', 'unit', confirm, { after: ['load/same'] }),
    step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3, walk: 'by-unit' }), {
      after: ['seat/same'],
    }),
    step(
      'expose',
      'unit',
      expose({ surfaces: ['facial', 'lingual'], seconds: 10, restSeconds: 15 }),
      {
        after: ['tack'],
      },
    ),
    step('strips', 'contact', tally(3), { after: ['expose/linked'] }),
    step('again', 'case', confirm, { after: ['strips'], onlyIf: [{ wayBack: 'wet' }] }),
    step('polish', 'case', confirm, { after: ['again'], optional: true }),
  ],
  {
    windows: [
      window('wet-surface', 'dry/end -> coats/start', {
        maxS: 60,
        severity: 'serious',
        amber: true,
      }),
      window('working', 'cement/end -> tack/end', {
        maxS: 240,
        match: 'linked',
        protects: 'working',
        severity: 'serious',
      }),
      window('warm', 'ready/end -> cement/end', { minS: 120, match: 'linked', protects: 'warm' }),
    ],
    waysBack: [
      saliva({ until: 'coats', voids: ['etch', 'rinse', 'dry'] }),
      {
        id: 'gelled',
        title: 'Cement gelled early',
        mishap: 'gelled-early',
        per: 'mix',
        from: { step: 'cement', edge: 'end' },
        until: { step: 'tack', edge: 'end' },
        voids: [
          { step: 'cement', link: 'same' },
          { step: 'load', link: 'linked' },
          { step: 'seat', link: 'linked' },
        ],
        proposal: 'Clean the units and mix again.',
        basis: { kind: 'practice' },
      },
    ],
  },
);

/** What is read aloud before a unit is loaded and in the opening pause, and what is published of an injection. */
import { readFileSync } from 'node:fs';
import { elapsed } from '../../src/engine/axis.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import type { MaterialLot } from '../../src/engine/material-types.ts';
import { applies } from '../../src/engine/status.ts';
import type { Elapsed } from '../../src/engine/types.ts';
import type { Check, Scene } from './check.ts';
import { allOf, textOf, textsOf } from './drawn-chair.tsx';
import { edgeOf, windowMax } from './plain-log.ts';
import { nameOf, spelled } from './plain-words.ts';

const HOUR_MS = 3_600_000;

/** The earlier of the label's expiry and the last day after opening, as the lot was named with them. */
function lastDayOf({ expiry, useBy }: MaterialLot): string {
  const [first] = [expiry, useBy].filter((day) => day !== undefined).toSorted();
  return first === undefined ? '' : `, to ${first}`;
}

function minutes(ms: number): string {
  const whole = Math.floor(ms / 60_000);
  const [h, min] = [Math.floor(whole / 60), whole % 60];
  if (h === 0) return `${min} min`;
  return min === 0 ? `${h} h` : `${h} h ${min} min`;
}

function span({ loMs, hiMs }: Elapsed): string {
  const lo = minutes(loMs);
  if (!Number.isFinite(hiMs)) return `at least ${lo}`;
  return lo === minutes(hiMs) ? lo : `${lo} to ${minutes(hiMs)}`;
}

const SPOILT: Readonly<Record<string, string>> = {
  saliva: 'saliva in the primed unit',
  blood: 'blood in the primed unit',
  'left-in-light': 'primed unit left in light',
  'unit-dropped': 'the unit fell after priming',
};

/** Whether a unit may be loaded as it is, by the time since it was primed and what happened to it since. */
function readiness(scene: Scene, unit: string): string | null {
  const { plain, now } = scene;
  const layout = layoutOf(plain.log.state);
  const pair = layout.windows.find((w) => w.window.protects === 'shield' && w.subject === unit);
  if (pair?.window.maxMs === undefined) return null;
  const at = edgeOf(plain.runs.get(pair.from), pair.window.from.edge);
  if (at === null) return 'Clean and prime again: not primed (practice)';
  const since = elapsed(at, now);
  const limitMs = windowMax(plain, pair, at) ?? 0;
  const primed = `primed ${span(since)} ago`;
  const limit = `${primed}, limit ${minutes(limitMs)}`;
  const times = [
    ...(since.loMs >= 12 * HOUR_MS ? [`${primed}, left overnight`] : []),
    ...(since.loMs < 12 * HOUR_MS && since.hiMs >= 12 * HOUR_MS
      ? [`${primed}, perhaps left overnight`]
      : []),
    ...(since.hiMs < 12 * HOUR_MS && since.loMs > limitMs ? [`${limit} passed`] : []),
    ...(since.hiMs < 12 * HOUR_MS && since.loMs <= limitMs && since.hiMs > limitMs
      ? [`${limit} may have passed`]
      : []),
  ];
  const isDirty = layout.instances.some(({ key, subject, step }) => {
    const run = plain.runs.get(key);
    return (
      subject === unit &&
      step.rangeClass === 'clean-after-try-in' &&
      run?.isSkipped === true &&
      (run.endedAt?.loMs ?? -1) >= at.loMs
    );
  });
  const mishaps = plain
    .of('way-back-taken')
    .filter((e) => e.subjects.includes(unit) && e.at.loMs >= at.loMs)
    .flatMap((e) => SPOILT[e.mishap] ?? []);
  const found = [
    ...times,
    ...(isDirty ? ['try-in paste was not cleaned out'] : []),
    ...new Set(mishaps),
  ];
  if (found.length === 0) return `Nothing is repeated: ${limit} (practice)`;
  const isAgain = found.some((each) => each.endsWith('overnight') || each.includes('fell after'));
  return `${isAgain ? 'Condition' : 'Clean'} and prime again: ${found.join('; ')} (practice)`;
}

/** The shade line of a loading, where no trial was noted at all. */
function shadeLines({ plain }: Scene, units: readonly string[]): readonly RegExp[] {
  const trials = plain
    .of('shade-tried')
    .filter(({ trial }) => trial.subject === 'case' || units.includes(trial.subject));
  const accepted = trials.filter(({ trial }) => trial.result === 'accepted').at(-1)?.trial;
  if (accepted !== undefined) {
    const paste = accepted.paste.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');
    return [new RegExp(`Shade: paste ${paste}( with .*)?(; tried since, not accepted: .*)?$`)];
  }
  const chosen = plain.events.flatMap((e) => {
    if (e.type !== 'option-chosen') return [];
    const step = plain.log.state.opened.protocol.steps.find(({ id }) => id === e.step);
    const option =
      step?.action.kind === 'choose'
        ? step.action.options.find(({ id }) => id === e.option)
        : undefined;
    return option === undefined ? [] : [option.label];
  });
  const told = [
    ...chosen.flatMap((label) => [label, `${label}, paste not noted`]),
    'Shade: no accepted trial noted',
  ];
  return told.map((each) => new RegExp(`^(?:[^:]*: )?${each}(, planned .*)?$`));
}

function linesNow(scene: Scene): readonly RegExp[] {
  const { plain, running } = scene;
  const { spec, protocol } = plain.log.state.opened;
  const exact = (text: string) => new RegExp(`^${text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`);
  const { subjects } = layoutOf(plain.log.state);
  const units = (running.view.offers[0]?.subjects ?? []).flatMap((s) => subjects.linked(s, 'unit'));
  const named = (slot: string) =>
    plain
      .of('material-named')
      .filter((e) => e.slot === slot)
      .at(-1)?.material;
  const ready = new Map<string, string[]>();
  for (const unit of units) {
    const told = readiness(scene, unit);
    if (told !== null) ready.set(told, [...(ready.get(told) ?? []), nameOf(unit, plain)]);
  }
  return [
    exact(`${protocol.title}, revision ${protocol.revision}`),
    exact(spec.allergies ?? 'not noted'),
    ...spec.people.map(({ label, role }) => exact(`${label}, ${role}`)),
    ...protocol.slots.map(({ id, label, materialClass }) => {
      const lot = named(id);
      const tail = lot === undefined ? 'lot not named' : `lot ${lot.lot}${lastDayOf(lot)}`;
      return exact(`${label}: ${materialClass}, ${tail}`);
    }),
    ...[...ready].flatMap(([told, of]) => [
      exact(told),
      exact(`${of.join(' ')}: ${told}`),
      ...of.map((each) => exact(`${each}: ${told}`)),
    ]),
    ...shadeLines(scene, units),
    // Of the case file, not of the log: the unit or the tooth by its name, then what is known of it.
    ...spec.units.flatMap(({ id, teeth, pontics = [], restoration }) => {
      const own = teeth.map((each) => nameOf(`tooth:${each}`, plain));
      const gaps = pontics.map((each) => nameOf(`tooth:${each}`, plain)).join(' ');
      const all = gaps === '' ? own.join(' ') : `${own.join(' ')} \\(\\+ ${gaps}\\)`;
      return [
        new RegExp(`^${all}, ${restoration}, [a-z -]+(, .*)?$`),
        ...[nameOf(`unit:${id}`, plain), ...own].map((each) => new RegExp(`^${each}: [A-Z][^:]*$`)),
      ];
    }),
    /^Not the shade of .* in the same mix$|^Units of this mix differ in shade$/,
  ];
}

const aloud: Check = {
  name: 'what is read aloud is what the log and the case file hold',
  entries: [
    'readBack.protocol',
    'readBack.noAllergies',
    'readBack.person',
    'readBack.roles.',
    'readBack.noLot',
    'readBack.lot',
    'readBack.lotTo',
    'readBack.unit',
    'readBack.withPontics',
    'readBack.repeat.',
    'readBack.reason.',
    'readBack.reasons',
    'readBack.minutes',
    'readBack.hours',
    'readBack.hoursAndMinutes',
    'readBack.span',
    'readBack.atLeast',
    'readBack.noShade',
    'readBack.noPaste',
    'readBack.ofUnit',
  ],
  complaints: (scene) => {
    const real = linesNow(scene);
    const told = allOf(scene.drawn, 'chair-read-back').flatMap((list) =>
      list.inside.flatMap((each) => (typeof each === 'string' ? [] : [textOf(each)])),
    );
    return told
      .filter((line) => !real.some((each) => each.test(line)))
      .map((line) => `“${line}”, by the log: ${real.slice(0, 12).join(' | ')}`);
  },
};

interface Published {
  readonly agents: readonly {
    id: string;
    softTissueHoursMin?: number;
    softTissueHoursMax?: number;
  }[];
  readonly rows: readonly {
    agent: string;
    technique: string;
    pulpalMinutes?: number;
    repeatMinutes?: number;
  }[];
}

// The table names its sources; the sentence must tell its figures and no others.
const published: Published = JSON.parse(readFileSync('shared/tables/anaesthesia.json', 'utf8'));

const whole = (ms: number): string =>
  ms > 0 && ms < 60_000 ? 'under 1 min' : spelled(Math.floor(ms / 60_000) * 60);

function since({ loMs, hiMs }: Elapsed): string {
  if (!Number.isFinite(hiMs)) return `${whole(loMs)} or more`;
  return whole(loMs) === whole(hiMs) ? whole(loMs) : `${whole(loMs)} to ${whole(hiMs)}`;
}

/** Steps on these teeth that may hurt and are still to come. */
function toCome({ plain }: Scene, teeth: readonly string[]): readonly string[] {
  const { state } = plain.log;
  const layout = layoutOf(state);
  const open = layout.instances.filter((i) => {
    const run = plain.runs.get(i.key);
    const isOver = run !== undefined && (run.isSkipped || run.endedAt !== null);
    const isOn =
      i.subject === 'case' ||
      layout.subjects.teethOf(i.subject).some((t) => teeth.includes(t.replace('tooth:', '')));
    return (
      i.step.mayHurt === true &&
      !isOver &&
      isOn &&
      (run !== undefined || applies(state, layout, i) !== 'no')
    );
  });
  return layout.protocol.steps
    .filter((s) => open.some((i) => i.step.id === s.id))
    .map((s) => s.title);
}

const injected: Check = {
  name: 'what is published of an injection, how long ago it was, what may still hurt',
  entries: ['beside.pulp', 'beside.soft', 'beside.toCome', 'beside.ending', 'beside.details'],
  complaints: (scene) => {
    const { plain, now, drawn } = scene;
    const real = plain.of('anaesthesia-given').flatMap(({ agent, technique, teeth, at }) => {
      const soft = published.agents.find(({ id }) => id === agent);
      const row = published.rows.find((r) => r.agent === agent && r.technique === technique);
      const pulpMs = (row?.pulpalMinutes ?? 0) * 60_000;
      const passed = elapsed(at, now);
      const steps = toCome(scene, teeth);
      const isWarning = steps.length > 0 && passed.hiMs >= pulpMs * 0.8;
      const figures = `pulp about ${whole(pulpMs)}; lip ${soft?.softTissueHoursMin} h to ${soft?.softTissueHoursMax} h`;
      const list =
        steps.length < 2 ? steps.join('') : `${steps.slice(0, -1).join(', ')} and ${steps.at(-1)}`;
      return [
        steps.length > 0 && !isWarning ? `${figures}; still to come: ${list}` : figures,
        ...(isWarning
          ? [
              `${since(passed)} have passed since the injection. Still to come: ${list}. Ask, test, top up if needed.`,
            ]
          : []),
      ];
    });
    const lines = allOf(drawn, 'chair-beside')
      .map(textOf)
      .filter((each) => each.includes('lapsed'));
    const banners = textsOf(drawn, 'lw-banner-words').filter((each) => each.includes('injection'));
    const told = [...lines.map((each) => each.split('; ').slice(1).join('; ')), ...banners];
    return told
      .filter((each) => !real.includes(each))
      .map((each) => `“${each}”, by the log: ${real.join(' | ')}`);
  },
};

export const aloudChecks: readonly Check[] = [aloud, injected];

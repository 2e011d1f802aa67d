/** Whether the numbers and actions of each step, and the two sides of each window, make sense. */
import { caution, type Finding, fault } from './finding.ts';
import type { Action, DwellTimes, Figure, Protocol, Step, Window } from './types.ts';

interface Named {
  readonly name: string;
  readonly figure: Figure | undefined;
}

/** Each figure that is given must not be above the next one that is given. */
function rising(place: string, figures: readonly Named[]): readonly Finding[] {
  const given = figures.flatMap(({ name, figure }) =>
    figure === undefined ? [] : [{ name, value: figure.value }],
  );
  return given.slice(1).flatMap((high, i) => {
    const low = given[i];
    if (low === undefined || low.value <= high.value) return [];
    const values = { low: low.name, lowValue: low.value, high: high.name, highValue: high.value };
    return [fault('bounds-crossed', `${place}.${low.name}.value`, values)];
  });
}

function risingTimes(place: string, times: DwellTimes): readonly Finding[] {
  return rising(place, [
    { name: 'minMs', figure: times.minMs },
    { name: 'targetMs', figure: times.targetMs },
    { name: 'maxMs', figure: times.maxMs },
  ]);
}

function exposeFindings(
  action: Extract<Action, { kind: 'expose' }>,
  place: string,
): readonly Finding[] {
  const found: Finding[] = [];
  if (action.perSurfaceMs === undefined && action.doseJPerCm2 === undefined) {
    found.push(fault('expose-without-time', place));
  }
  if (action.surfaces.length === 0) found.push(fault('expose-without-surface', place));
  action.surfaces.forEach((surface, i) => {
    if (action.surfaces.indexOf(surface) !== i) {
      found.push(fault('surface-twice', `${place}.surfaces[${i}]`, { surface }));
    }
  });
  return found;
}

function choiceFindings(
  options: readonly { readonly id: string }[],
  place: string,
): readonly Finding[] {
  if (options.length === 0) return [fault('choice-without-options', place)];
  return options.flatMap(({ id }, i) =>
    options.findIndex((option) => option.id === id) === i
      ? []
      : [fault('duplicate-id', `${place}[${i}].id`, { id })],
  );
}

function actionFindings(action: Action, place: string): readonly Finding[] {
  if (action.kind === 'dwell') {
    const { byMaterial = {}, variants = [] } = action;
    return [
      ...risingTimes(place, action),
      ...Object.entries(byMaterial).flatMap(([material, times]) =>
        risingTimes(`${place}.byMaterial.${material}`, times),
      ),
      ...variants.flatMap((times, i) => risingTimes(`${place}.variants[${i}]`, times)),
    ];
  }
  if (action.kind === 'expose') return exposeFindings(action, place);
  if (action.kind === 'choose') return choiceFindings(action.options, `${place}.options`);
  if (action.kind !== 'confirm') return [];
  const { evidence } = action;
  if (evidence?.kind === 'choice') {
    return choiceFindings(evidence.options, `${place}.evidence.options`);
  }
  if (evidence?.kind !== 'reading' || evidence.min <= evidence.max) return [];
  const values = { low: 'min', lowValue: evidence.min, high: 'max', highValue: evidence.max };
  return [fault('bounds-crossed', `${place}.evidence.min`, values)];
}

function clockFindings(step: Step, place: string): readonly Finding[] {
  const found: Finding[] = [];
  if (step.hands !== undefined && step.action.kind !== 'dwell') {
    found.push(caution('hands-without-dwell', `${place}.hands`));
  }
  const { beginsWith } = step;
  if (beginsWith === undefined) return found;
  if (step.action.kind !== 'dwell') found.push(fault('clock-without-dwell', `${place}.beginsWith`));
  if (!step.after.some((after) => after.step === beginsWith)) {
    found.push(caution('clock-not-after', `${place}.beginsWith`, { id: beginsWith }));
  }
  return found;
}

function windowFindings(window: Window, place: string): readonly Finding[] {
  if (window.minMs === undefined && window.maxMs === undefined) {
    return [fault('window-without-bound', place, { title: window.title })];
  }
  if (window.from.step === window.to.step && window.from.edge === window.to.edge) {
    return [fault('window-of-one-moment', place, { title: window.title })];
  }
  return rising(place, [
    { name: 'minMs', figure: window.minMs },
    { name: 'targetMs', figure: window.targetMs },
    { name: 'maxMs', figure: window.maxMs },
  ]);
}

/** Crossed bounds, actions that cannot be finished, clocks that never start. */
export function checkFigures(protocol: Protocol): readonly Finding[] {
  const steps = protocol.steps.flatMap((step, i) => {
    const place = `protocol.steps[${i}]`;
    const pace = [
      { name: 'medianMs', figure: step.pace.medianMs },
      { name: 'p90Ms', figure: step.pace.p90Ms },
    ];
    return [
      ...actionFindings(step.action, `${place}.action`),
      ...rising(`${place}.pace`, pace),
      ...clockFindings(step, place),
    ];
  });
  const windows = protocol.windows.flatMap((window, i) =>
    windowFindings(window, `protocol.windows[${i}]`),
  );
  return [...steps, ...windows];
}

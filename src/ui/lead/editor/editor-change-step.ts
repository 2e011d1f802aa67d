/** A field of a step in words, for a difference: what it waits for, what is asked, how it is pressed. */
import { unreachable } from '../../../base/assert.ts';
import type { FigureKey } from '../../../protocol/edit-types.ts';
import type { After, DwellTimes, Evidence, Protocol, Step } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { basisShort } from '../../../words/basis-words.ts';
import { changeWords, fieldWords } from '../../../words/change-words.ts';
import { whereWords } from '../../../words/condition-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { figureLabel } from '../../../words/figure-words.ts';
import { materialWord } from '../../../words/material-words.ts';
import { listTitle, pressedNow, sweepWords } from '../../../words/pressing-words.ts';
import { protocolWords, stepAsks } from '../../../words/protocol-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { SURFACE_WORDS } from '../../../words/subject-words.ts';
import { conditionWords } from './editor-around-model.ts';
import { listed, type Names, namesOf, stepNames } from './editor-change-lists.ts';
import { shownValue } from './editor-model.ts';
import { STEP_GROUPS } from './editor-step.ts';
import { stepKindWord } from './editor-step-names.ts';

function afterWords(after: After, protocol: Protocol): string {
  const { step, link, edge } = after;
  const on = { step: stepNames(protocol)(step), link: editorWords.linkWords[link] };
  const what = edge === 'start' ? changeWords.onLinkBegun(on) : changeWords.onLink(on);
  const where = whereWords(after.where, protocol);
  return where === '' ? what : changeWords.onlyWhere({ what, where });
}

function optionsWords({ action }: Step, stepName: Names): string | null {
  if (action.kind !== 'choose') return null;
  const options = action.options.map(({ label, redo = [] }) =>
    redo.length === 0
      ? label
      : changeWords.optionAgain({ option: label, again: aroundWords.again(redo.map(stepName)) }),
  );
  return listed(options, changeWords.clauses);
}

const rangeWord = (rangeClass: string | undefined): string =>
  rangeClass === undefined ? changeWords.none : stepKindWord(rangeClass);

/** "minimum 5 s (Common practice), target 18 s (Common practice)" */
function timesWords(times: DwellTimes, { sources }: Protocol): string {
  const numbers = (['minMs', 'targetMs', 'maxMs'] as const).flatMap((name) => {
    const figure = times[name];
    if (figure === undefined) return [];
    const key: FigureKey = `action.${name}`;
    const label = changeWords.numbered({
      label: figureLabel(key),
      value: shownValue(key, figure.value),
    });
    return [changeWords.withNotes({ label, notes: basisShort(figure.basis, sources) })];
  });
  const { rangeClass } = times;
  if (rangeClass === undefined) return changeWords.list(numbers);
  const range = changeWords.numbered({
    label: fieldWords('steps', 'rangeClass'),
    value: rangeWord(rangeClass),
  });
  return changeWords.list([...numbers, range]);
}

/** "Tooth: dentine shows: minimum 5 s, target 18 s, limit 45 s" */
function variantsWords({ action }: Step, protocol: Protocol): string | null {
  if (action.kind !== 'dwell') return null;
  const variants = action.variants?.map((times) =>
    changeWords.field({
      owner: whereWords(times.where, protocol),
      field: timesWords(times, protocol),
    }),
  );
  return listed(variants, changeWords.clauses);
}

/** The times of every class, or of the one that the key names; the kind of step of it where that is all. */
function byMaterialWords({ action }: Step, key: string, protocol: Protocol): string | null {
  if (action.kind !== 'dwell') return null;
  const [, , material, field] = key.split('.');
  const all = Object.entries(action.byMaterial ?? {});
  const some = all.filter(([name]) => material === undefined || name === material);
  if (field === 'rangeClass') return rangeWord(some[0]?.[1].rangeClass);
  if (field !== undefined) return null;
  const told = some.map(([name, times]) =>
    changeWords.field({ owner: materialWord(name), field: timesWords(times, protocol) }),
  );
  return listed(told, changeWords.clauses);
}

function readingWords(
  reading: Extract<Evidence, { readonly kind: 'reading' }>,
  stepName: Names,
): string {
  const { label, min, max, unit, against, equals } = reading;
  return changeWords.list([
    changeWords.reading({ label, min: String(min), max: String(max), unit }),
    ...(against === undefined ? [] : [changeWords.against(stepFormWords.against[against])]),
    ...(equals === undefined ? [] : [changeWords.equals(stepName(equals))]),
  ]);
}

function evidenceWords(evidence: Evidence | undefined, protocol: Protocol): string {
  if (evidence === undefined) return changeWords.none;
  const owner = stepFormWords.evidenceKind[evidence.kind];
  const told = (field: string): string => changeWords.field({ owner, field });
  switch (evidence.kind) {
    case 'choice':
      return told(listed(evidence.options.map(({ label }) => label)));
    case 'reading':
      return told(readingWords(evidence, stepNames(protocol)));
    case 'material':
      return told(namesOf(protocol.slots, ({ label }) => label)(evidence.slot));
    case 'note':
      return told(evidence.label);
    case 'read-back':
      return told(stepFormWords.readBack[evidence.of]);
    default:
      return unreachable(evidence);
  }
}

/** The kind of action, with what it asks for. */
function actionWords(step: Step, protocol: Protocol): string {
  const owner = editorWords.actionKind[step.action.kind];
  const { action } = step;
  const asks =
    action.kind === 'confirm'
      ? action.evidence && evidenceWords(action.evidence, protocol)
      : stepAsks(step, protocol);
  return asks === undefined || asks === '' ? owner : changeWords.field({ owner, field: asks });
}

function actionField(protocol: Protocol, step: Step, key: string): string | null {
  const { action } = step;
  switch (key) {
    case 'action':
      return actionWords(step, protocol);
    case 'action.options':
      return optionsWords(step, stepNames(protocol));
    case 'action.variants':
      return variantsWords(step, protocol);
    case 'action.evidence':
      return evidenceWords('evidence' in action ? action.evidence : undefined, protocol);
    case 'action.surfaces':
      return action.kind === 'expose'
        ? listed(action.surfaces.map((surface) => SURFACE_WORDS[surface]))
        : changeWords.none;
    case 'action.walk':
      return action.kind === 'expose' ? stepFormWords.walk[action.walk] : changeWords.none;
    default:
      return key.startsWith('action.byMaterial') ? byMaterialWords(step, key, protocol) : null;
  }
}

function pressedField(protocol: Protocol, { pressed }: Step, key: string): string | null {
  const stepName = stepNames(protocol);
  if (key === 'pressed') return pressedNow(protocol, pressed);
  if (pressed?.kind === 'list') return listTitle(protocol, pressed.list);
  if (pressed?.kind === 'implied') return listed(pressed.by.map(stepName));
  if (pressed?.kind === 'paced') {
    return pressed.confirmedBy === undefined ? changeWords.none : stepName(pressed.confirmedBy);
  }
  const time = key === 'pressed.start' ? pressed?.start : pressed?.end;
  return time === undefined ? changeWords.none : sweepWords(time);
}

function handsWords({ hands }: Step, { sources }: Protocol): string {
  if (hands === undefined) return changeWords.none;
  const told = (['applyMs', 'rinseMs'] as const).map((name) => {
    const key: FigureKey = `hands.${name}`;
    const { value, basis } = hands[name];
    const label = changeWords.numbered({ label: figureLabel(key), value: shownValue(key, value) });
    return changeWords.withNotes({ label, notes: basisShort(basis, sources) });
  });
  return changeWords.list(told);
}

/** The texts of a group of fields, each under its name. */
function textsWords(texts: object | undefined, under: string): string {
  const told = Object.entries(texts ?? {}).flatMap(([name, text]: [string, unknown]): string[] => {
    const key = `${under}.${name}`;
    if (typeof text === 'object' && text !== null) return [textsWords(text, key)];
    if (typeof text !== 'string') return [];
    const label = fieldWords('steps', key);
    return [changeWords.field({ owner: label, field: changeWords.quoted(text) })];
  });
  return listed(told, changeWords.clauses);
}

function waitField(protocol: Protocol, step: Step, key: string): string | null {
  switch (key) {
    case 'after':
      return listed(
        step.after.map((after) => afterWords(after, protocol)),
        changeWords.clauses,
      );
    case 'onlyIf':
      return listed(
        step.onlyIf?.map((condition) => conditionWords(protocol, condition)),
        changeWords.oneOf,
      );
    case 'where':
      return whereWords(step.where, protocol) || changeWords.none;
    case 'roundOf':
    case 'beginsWith':
      return step[key] === undefined ? changeWords.none : stepNames(protocol)(step[key]);
    default:
      return null;
  }
}

function plainField(protocol: Protocol, step: Step, key: string): string | null {
  switch (key) {
    case 'stage':
      return namesOf(protocol.stages, ({ title }) => title)(step.stage);
    case 'per':
      return protocolWords.scopes[step.per];
    case 'by':
      return protocolWords.roles[step.by];
    case 'cautions':
      return listed(step.cautions?.map(cautionNames(protocol)));
    case 'uses':
      return listed(step.uses?.map(namesOf(protocol.slots, ({ label }) => label)));
    case 'hands':
      return handsWords(step, protocol);
    case 'some':
    case 'words':
      return textsWords(step[key], key);
    case 'some.words':
      return textsWords(step.some?.words, key);
    case 'rangeClass':
      return rangeWord(step.rangeClass);
    case 'field':
      return step.field === undefined ? changeWords.none : stepFormWords.field[step.field];
    case 'earlier':
      return step.earlier === undefined ? changeWords.none : stepFormWords.earlier[step.earlier];
    default:
      return null;
  }
}

/** Null for a field that needs no words of its own. */
export function stepField(protocol: Protocol, step: Step, key: string): string | null {
  if (key === 'action' || key.startsWith('action.')) return actionField(protocol, step, key);
  if (key === 'pressed' || key.startsWith('pressed.')) return pressedField(protocol, step, key);
  return waitField(protocol, step, key) ?? plainField(protocol, step, key);
}

/** The fields of a step in the order of its form. The title stands before them. */
const STEP_KEYS = Object.values(STEP_GROUPS)
  .flat()
  .filter((key) => key !== 'title');

function pieceWords(protocol: Protocol, step: Step, key: (typeof STEP_KEYS)[number]): string {
  const value = step[key];
  if (typeof value === 'boolean') return value ? changeWords.yes : changeWords.no;
  const told = stepField(protocol, step, key);
  if (told === null) return typeof value === 'string' ? changeWords.quoted(value) : '';
  const options = key === 'action' ? optionsWords(step, stepNames(protocol)) : null;
  return options === null ? told : changeWords.field({ owner: told, field: options });
}

/** All that a step says but its title and its pace, a piece each. */
export function stepPieces(protocol: Protocol, step: Step): readonly string[] {
  return STEP_KEYS.flatMap((key) => {
    if (step[key] === undefined) return [];
    const field = pieceWords(protocol, step, key);
    return [changeWords.field({ owner: fieldWords('steps', key), field })];
  });
}

export const cautionNames = ({ cautions }: Protocol): Names =>
  namesOf(cautions, (caution) => changeWords.quoted(caution.words));

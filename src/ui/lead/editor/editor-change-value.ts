/**
 * A field of a protocol in words, for a difference. The fields that name other entries are read from
 * the document they stand in, so that ids become titles.
 */
import { itemAt } from '../../../protocol/edit-types.ts';
import type { After, Moment, Protocol, Step, WayBack, Window } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { basisWords } from '../../../words/basis-words.ts';
import { changeWords } from '../../../words/change-words.ts';
import { whereWords } from '../../../words/condition-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { figureLabel } from '../../../words/figure-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { conditionWords } from './editor-around-model.ts';
import { shownValue } from './editor-model.ts';

interface Titled {
  readonly id: string;
}

type Names = (id: string) => string;

const namesOf =
  <T extends Titled>(list: readonly T[], name: (item: T) => string): Names =>
  (id) => {
    const found = list.find((item) => item.id === id);
    return found === undefined ? id : name(found);
  };

const listed = (
  texts: readonly string[] | undefined,
  list: (texts: readonly string[]) => string = changeWords.list,
): string => (texts === undefined || texts.length === 0 ? changeWords.none : list(texts));

function momentWords(moment: Moment | undefined, stepName: Names): string {
  if (moment === undefined) return changeWords.none;
  return changeWords.moment[moment.edge](stepName(moment.step));
}

function afterWords({ step, link, edge }: After, stepName: Names): string {
  const on = { step: stepName(step), link: editorWords.linkWords[link] };
  return edge === 'start' ? changeWords.onLinkBegun(on) : changeWords.onLink(on);
}

function voidWords(voided: WayBack['voids'][number], stepName: Names): string {
  const { step, link, onlyAfter } = voided;
  const on = { step: stepName(step), link: editorWords.linkWords[link] };
  if (onlyAfter === undefined) return changeWords.onLink(on);
  return changeWords.onLinkOnlyAfter({ ...on, onlyAfter: stepName(onlyAfter) });
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

/** "Tooth: dentine shows: minimum 5 s, target 18 s, limit 45 s" */
function variantsWords({ action }: Step, protocol: Protocol): string | null {
  if (action.kind !== 'dwell') return null;
  const variants = action.variants?.map((times) =>
    changeWords.field({
      owner: whereWords(times.where, protocol),
      field: changeWords.list(
        (['minMs', 'targetMs', 'maxMs'] as const).flatMap((name) => {
          const figure = times[name];
          if (figure === undefined) return [];
          const label = figureLabel(`action.${name}`);
          return [
            changeWords.numbered({ label, value: shownValue(`action.${name}`, figure.value) }),
          ];
        }),
      ),
    }),
  );
  return listed(variants, changeWords.clauses);
}

function choicesWords({ choices }: Protocol): string {
  const each = choices?.map((choice) =>
    changeWords.field({
      owner: choice.title,
      field: changeWords.list(choice.options.map(({ label }) => label)),
    }),
  );
  return listed(each, changeWords.clauses);
}

function stepField(protocol: Protocol, step: Step, key: string): string | null {
  const stepName = namesOf(protocol.steps, ({ title }) => title);
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
    case 'after':
      return listed(
        step.after.map((after) => afterWords(after, stepName)),
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
      return step[key] === undefined ? changeWords.none : stepName(step[key]);
    case 'action':
      return editorWords.actionKind[step.action.kind];
    case 'action.options':
      return optionsWords(step, stepName);
    case 'action.variants':
      return variantsWords(step, protocol);
    default:
      return null;
  }
}

function windowField(protocol: Protocol, window: Window, key: string): string | null {
  const stepName = namesOf(protocol.steps, ({ title }) => title);
  switch (key) {
    case 'from':
    case 'to':
      return momentWords(window[key], stepName);
    case 'match':
      return editorWords.linkWords[window.match];
    case 'protects':
      return protocolWords.protects[window.protects];
    case 'severity':
      return protocolWords.severities[window.severity];
    case 'wayBack':
      return window.wayBack === undefined
        ? changeWords.none
        : namesOf(protocol.waysBack, ({ title }) => title)(window.wayBack);
    default:
      return null;
  }
}

const cautionNames = ({ cautions }: Protocol) =>
  namesOf(cautions, (caution) => changeWords.quoted(caution.words));

function wayBackField(protocol: Protocol, way: WayBack, key: string): string | null {
  const stepName = namesOf(protocol.steps, ({ title }) => title);
  switch (key) {
    case 'mishap':
      return protocolWords.mishaps[way.mishap];
    case 'per':
      return protocolWords.scopes[way.per];
    case 'from':
    case 'until':
      return way[key] === undefined ? aroundWords.anyTime : momentWords(way[key], stepName);
    case 'voids':
      return listed(
        way.voids.map((voided) => voidWords(voided, stepName)),
        changeWords.clauses,
      );
    case 'proposal':
      return changeWords.quoted(way.proposal);
    case 'cautions':
      return listed(way.cautions?.map(cautionNames(protocol)));
    case 'basis':
      return basisWords(way.basis, protocol.sources).whole;
    default:
      return null;
  }
}

/** Null for a field that needs no words of its own. */
export function fieldText(
  protocol: Protocol,
  at: { readonly part: string; readonly id: string; readonly key: string },
): string | null {
  const { id, key } = at;
  switch (at.part) {
    case 'protocol':
      return key === 'choices' ? choicesWords(protocol) : null;
    case 'steps': {
      const step = protocol.steps.find((item) => item.id === id);
      return step === undefined ? null : stepField(protocol, step, key);
    }
    case 'windows': {
      const window = protocol.windows.find((item) => item.id === id);
      return window === undefined ? null : windowField(protocol, window, key);
    }
    case 'waysBack': {
      const way = protocol.waysBack.find((item) => item.id === id);
      return way === undefined ? null : wayBackField(protocol, way, key);
    }
    case 'cautions':
    case 'sources': {
      const item = itemAt(protocol, { part: at.part, id });
      if (item === undefined) return null;
      if (key === 'words' && 'words' in item && typeof item.words === 'string') {
        return changeWords.quoted(item.words);
      }
      if (key === 'short' && 'short' in item && typeof item.short === 'string') {
        return changeWords.quoted(item.short);
      }
      return key === 'citation' && 'citation' in item ? changeWords.quoted(item.citation) : null;
    }
    default:
      return null;
  }
}

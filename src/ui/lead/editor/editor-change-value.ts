/**
 * A field of a protocol in words, for a difference. The fields that name other entries are read from
 * the document they stand in, so that ids become titles.
 */
import { unreachable } from '../../../base/assert.ts';
import { isSameJson } from '../../../base/json.ts';
import { itemAt } from '../../../protocol/edit-types.ts';
import type { Moment, Protocol, ProtocolChoice, WayBack, Window } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { basisWords } from '../../../words/basis-words.ts';
import { changeWords, fieldWords } from '../../../words/change-words.ts';
import { whereWords } from '../../../words/condition-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { materialWord, restorationWord } from '../../../words/material-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { listed, type Names, namesOf, stepNames } from './editor-change-lists.ts';
import { cautionNames, stepField } from './editor-change-step.ts';

function momentWords(moment: Moment | undefined, stepName: Names): string {
  if (moment === undefined) return changeWords.none;
  return changeWords.moment[moment.edge](stepName(moment.step));
}

function voidWords(voided: WayBack['voids'][number], stepName: Names): string {
  const { step, link, onlyAfter } = voided;
  const on = { step: stepName(step), link: editorWords.linkWords[link] };
  if (onlyAfter === undefined) return changeWords.onLink(on);
  return changeWords.onLinkOnlyAfter({ ...on, onlyAfter: stepName(onlyAfter) });
}

/** A choice with its options, their notes, the one that holds by itself, and its reason. */
function choiceWords({ title, why, options, default: own }: ProtocolChoice): string {
  const told = options.map(({ id, label, note }) => {
    const notes = [
      ...(note === undefined ? [] : [note]),
      ...(id === own ? [changeWords.takenByItself] : []),
    ];
    if (notes.length === 0) return label;
    return changeWords.withNotes({ label, notes: changeWords.clauses(notes) });
  });
  const choice = changeWords.field({ owner: title, field: changeWords.list(told) });
  return why === undefined ? choice : changeWords.withReason({ choice, why });
}

/** The choices that the other side has otherwise; the titles of all where only their order differs. */
function choicesWords({ choices }: Protocol, other?: Protocol): string {
  const differs = (choice: ProtocolChoice): boolean =>
    !isSameJson(
      choice,
      other?.choices?.find(({ id }) => id === choice.id),
    );
  const isMoved = choices?.length === other?.choices?.length && !choices?.some(differs);
  if (isMoved) return listed(choices?.map(({ title }) => title));
  return listed(choices?.filter(differs).map(choiceWords), changeWords.clauses);
}

const classes = (values: readonly string[] | undefined, word: (value: string) => string): string =>
  listed(values?.map(word));

function ownField(protocol: Protocol, key: string, other?: Protocol): string | null {
  switch (key) {
    case 'choices':
      return choicesWords(protocol, other);
    case 'restorations':
      return classes(protocol.restorations, restorationWord);
    case 'materials':
      return classes(protocol.materials, materialWord);
    default:
      return null;
  }
}

function windowField(protocol: Protocol, window: Window, key: string): string | null {
  const stepName = stepNames(protocol);
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

function wayBackField(protocol: Protocol, way: WayBack, key: string): string | null {
  const stepName = stepNames(protocol);
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
    case 'where':
      return whereWords(way.where, protocol) || changeWords.none;
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

const WAY_BACK_LISTS = ['voids', 'cautions', 'where'] as const;
type WayBackList = (typeof WAY_BACK_LISTS)[number];

function wayBackItems(protocol: Protocol, way: WayBack, key: WayBackList): readonly string[] {
  const stepName = stepNames(protocol);
  switch (key) {
    case 'voids':
      return way.voids.map((voided) => voidWords(voided, stepName));
    case 'cautions':
      return way.cautions?.map(cautionNames(protocol)) ?? [];
    case 'where':
      return way.where?.map((condition) => whereWords([condition], protocol)) ?? [];
    default:
      return unreachable(key);
  }
}

interface ListDifference {
  readonly added: readonly string[];
  readonly takenAway: readonly string[];
}

/** What a list of a way back gained and lost; null for any other field. */
export function wayBackDifference(
  id: string,
  key: string,
  { before, after }: { readonly before: Protocol; readonly after: Protocol },
): ListDifference | null {
  const list = WAY_BACK_LISTS.find((name) => name === key);
  const [was, is] = [before, after].map(({ waysBack }) => waysBack.find((way) => way.id === id));
  if (list === undefined || was === undefined || is === undefined) return null;
  const [old, now] = [wayBackItems(before, was, list), wayBackItems(after, is, list)];
  return {
    added: now.filter((item) => !old.includes(item)),
    takenAway: old.filter((item) => !now.includes(item)),
  };
}

const WAY_BACK_KEYS = [
  'mishap',
  'per',
  'from',
  'until',
  'where',
  'voids',
  'proposal',
  'cautions',
  'basis',
] as const satisfies readonly (keyof WayBack)[];

/** All that a way back says, a piece each. */
export function wayBackPieces(protocol: Protocol, way: WayBack): readonly string[] {
  return WAY_BACK_KEYS.flatMap((key) => {
    if (way[key] === undefined) return [];
    const value = wayBackField(protocol, way, key) ?? '';
    return [changeWords.numbered({ label: fieldWords('waysBack', key), value })];
  });
}

/** Null for a field that needs no words of its own. `other` is the document it is compared with. */
export function fieldText(
  protocol: Protocol,
  at: { readonly part: string; readonly id: string; readonly key: string },
  other?: Protocol,
): string | null {
  const { id, key } = at;
  switch (at.part) {
    case 'protocol':
      return ownField(protocol, key, other);
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

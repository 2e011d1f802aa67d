/**
 * Protocols as people read them. What is stored, hashed, compared, edited and confirmed is the
 * document itself; only what is shown and said goes through here. Without translations, as in
 * English, everything stays as it is and costs nothing.
 */
import type { CaseLog } from '../engine/log.ts';
import type { CaseState } from '../engine/types.ts';
import { languageOf, reads } from '../protocol/language-tag.ts';
import type { Protocol } from '../protocol/types.ts';
import { languageTag } from './language.ts';

/** A protocol in the language of the app, and how many of its texts are not. */
export interface Told {
  readonly protocol: Protocol;
  readonly missing: number;
}

type Translator = (protocol: Protocol) => Told | null;

let translator: Translator | null = null;
let told = new WeakMap<Protocol, Told | null>();
let toldStates = new WeakMap<CaseState, CaseState>();
/** The same log stays the same when it is told, so that a new one is known as new. */
const toldLogs = new WeakMap<CaseLog, CaseLog>();

/**
 * Sets what translates protocols on this page, once, at its start; null where they are shown as
 * written. It answers null for a protocol that it has no translation of.
 */
export function translateProtocols(how: Translator | null): void {
  translator = how;
  told = new WeakMap();
  toldStates = new WeakMap();
}

const isReadable = (protocol: Protocol): boolean => reads(languageTag(), languageOf(protocol));

function tellingOf(protocol: Protocol): Told | null {
  if (translator === null || isReadable(protocol)) return null;
  const known = told.get(protocol);
  if (known !== undefined) return known;
  const made = translator(protocol);
  told.set(protocol, made);
  return made;
}

/** The protocol in the language of the app, as far as it is translated. */
export const toldProtocol = (protocol: Protocol): Protocol =>
  tellingOf(protocol)?.protocol ?? protocol;

/** What a screen says where a protocol is not wholly in the language of the app; else null. */
type Untranslated = { readonly language: string; readonly count: number | 'all' } | null;

/** What of a protocol, as it is stored, people read in its own language and not in that of the app. */
export function untranslated(protocol: Protocol): Untranslated {
  if (isReadable(protocol)) return null;
  const known = tellingOf(protocol);
  if (known?.missing === 0) return null;
  return { language: languageOf(protocol), count: known?.missing ?? 'all' };
}

/** What materials are called, by the labels that documents know them by. */
export function toldLabels(protocols: readonly Protocol[]): ReadonlyMap<string, string> {
  return new Map(
    protocols.flatMap((protocol) =>
      protocol.slots.map(({ label }, i): [string, string] => [
        label,
        toldProtocol(protocol).slots[i]?.label ?? label,
      ]),
    ),
  );
}

/** The state of a case with its protocol in the language of the app. */
function toldState(state: CaseState): CaseState {
  const protocol = toldProtocol(state.opened.protocol);
  if (protocol === state.opened.protocol) return state;
  const known = toldStates.get(state);
  if (known !== undefined) return known;
  const made: CaseState = { ...state, opened: { ...state.opened, protocol } };
  toldStates.set(state, made);
  return made;
}

/** The log of a case for showing it. Its entries stay as they were stored. */
export function toldLog(log: CaseLog): CaseLog {
  const state = toldState(log.state);
  if (state === log.state) return log;
  const known = toldLogs.get(log);
  if (known?.state === state) return known;
  const made = { ...log, state };
  toldLogs.set(log, made);
  return made;
}

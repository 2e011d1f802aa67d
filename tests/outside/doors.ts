/**
 * Every way in for what comes from outside, each with real texts that it takes, and what it does
 * with any other: it reads it, or it answers what is wrong with it.
 */
import { jsonOr } from '../../src/base/json.ts';
import { type Problem, problemLine } from '../../src/base/problem.ts';
import type { Result } from '../../src/base/result.ts';
import { faultLine } from '../../src/calc/udi/label-fault.ts';
import { readDeviceLabel } from '../../src/calc/udi/udi.ts';
import { main } from '../../src/cli/main.ts';
import type { Recorded } from '../../src/engine/types.ts';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import { foldJournal, parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { journalOf, journalsIn, journalsParts } from '../../src/export/journals-json.ts';
import { parseScriptText } from '../../src/plan/parse-script.ts';
import { canonicalText, isStorable } from '../../src/protocol/canonical-text.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { restoreHistory } from '../../src/protocol/edit-history.ts';
import { parseEdits } from '../../src/protocol/edit-parse.ts';
import { parseJsonText } from '../../src/protocol/json-text.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import { parseTranslation } from '../../src/protocol/parse-translation.ts';
import { sheetChanges } from '../../src/protocol/sheet-changes.ts';
import { nextRevisionDraft } from '../../src/protocol/sheet-draft.ts';
import { sheetProblems } from '../../src/protocol/sheet-finish.ts';
import { parseSheet } from '../../src/protocol/sheet-schema.ts';
import { restoreBackup } from '../../src/runtime/backup/backup.ts';
import { backupLines, LineSum } from '../../src/runtime/backup/backup-lines.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { verifyLeadLog } from '../../src/runtime/lead/lead-log.ts';
import {
  parseProtocolFileText,
  protocolFileText,
} from '../../src/runtime/lead/lead-protocol-file.ts';
import { readScans } from '../../src/runtime/scanner/scanner-label.ts';
import { encodeRecord, readLines } from '../../src/storage/file-lines.ts';
import { hashText, verifyChain } from '../../src/storage/hash-chain.ts';
import { emptyJournal, filledJournal } from '../backup/filled-journal.ts';
import { entriesOf, eventful, followed } from '../export/journals.ts';
import { confirmedProtocol } from '../lead/corrections-support.ts';
import { caseText, sharedText, templateText } from '../protocol/documents.ts';
import { etchingGelSheet } from '../protocol/sheet-support.ts';
import { isLong } from '../tools/run-size.ts';
import { hurtFollowUp, openFollowUp } from './follow-up-door.ts';
import { hurtText, hurtValue, type Next, oneOf } from './mutate.ts';
import { passphrase, quickCrypto, sealedText } from './sealed.ts';

/** Null when it was read, or every line that is told. */
export type Told = readonly string[] | null;

export interface Door {
  readonly name: string;
  /** How many of a hundred inputs go through this door: some are slow. */
  readonly share: number;
  /** One real input, hurt. */
  readonly hurt: (next: Next) => string | Promise<string>;
  readonly open: (text: string) => Told | Promise<Told>;
}

const toldOf = (result: Result<unknown, Problem | readonly Problem[]>): Told => {
  if (result.ok) return null;
  const all: Problem | readonly Problem[] = result.error;
  return ('place' in all ? [all] : all).map(problemLine);
};

/** As text, or as another JSON value with the same look. */
function hurtJson(text: string, next: Next): string {
  if (next() < 0.5) return hurtText(text, next);
  const json = jsonOr(text);
  // What was hurt before may be no JSON any more.
  if (json === null) return hurtText(text, next);
  const hurt = JSON.stringify(hurtValue(json.value, next));
  return next() < 0.2 ? hurtText(hurt, next) : hurt;
}

const lazily = <T>(make: () => T): (() => T) => {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};

const CASES = ['two-veneers', 'zirconia-crown-and-wing-bridge', 'prepare-four-veneers'];
const SCRIPTS = ['two-veneers-with-slips', 'two-veneers-stopped', 'follow-eight'];
const demoScript = (name: string): string => sharedText(`../demo-data/scripts/${name}.json`);
const protocols = lazily(() => [
  templateText(),
  sharedText('protocols/zirconia-crown-wing-bridge-dual-cured.json'),
  sharedText('protocols/finishing-visit.json'),
]);
const recordings = lazily((): readonly (readonly Recorded[])[] => [
  eventful().log.records,
  // Whole appointments take seconds to play.
  ...(isLong ? [followed('two-veneers', 60), followed('onlay-and-crown', 25)] : []).map(
    ({ log }) => log.records,
  ),
]);

/** A journal of which one event was changed; chained anew, so that only its meaning is wrong. */
function hurtJournal(next: Next): string {
  const records = oneOf(next, recordings());
  const caseId = 'case-1';
  if (next() < 0.5) return hurtJson(journalJson({ caseId, entries: entriesOf(records) }), next);
  const changed = hurtValue(records, next);
  if (!Array.isArray(changed) || !isStorable(changed)) return JSON.stringify(changed);
  const numbered = changed.map((record: object | null, seq) => ({ ...record, seq }));
  const entries = entriesOf(numbered as unknown as readonly Recorded[]);
  return journalJson({ caseId, entries });
}

function openJournal(text: string): Told {
  const parsed = parseJournal(text, { verify: verifyChain });
  if (!parsed.ok) return toldOf(parsed);
  const { entries, apart, verification, problems, warnings } = parsed.value;
  const log = foldJournal(entries);
  if (!log.ok) return toldOf(log);
  // Any text is written in the same form each time, and all forms have their turn.
  const form = EXPORT_FORMS[text.length % EXPORT_FORMS.length]?.id ?? 'text';
  exportFile({ log: log.value, entries, apart, verification }, form);
  return [...problems, ...warnings].map(problemLine);
}

const savedLines = lazily(async () => {
  const { journal, epoch } = await filledJournal({ cases: 3, presses: 3 });
  const entry = { seq: 0, atWallMs: 1, by: 'A', deed: 'opened', values: {}, prev: '0'.repeat(64) };
  const hash = hashText(canonicalText(entry));
  const texts: readonly (readonly [string, string, unknown])[] = [
    ['lead-log', '00000000', { ...entry, hash }],
    ['settings', 'settings', { zone: 'Europe/Lisbon' }],
    ['own-protocol', 'x@1', JSON.parse(templateText())],
  ];
  for (const [kind, id, value] of texts) await journal.documents.put({ kind, id, value, epoch });
  const lines: string[] = [];
  for await (const line of backupLines(journal)) lines.push(line.trimEnd());
  return lines;
});

/** The text of a backup with one or two lines hurt; half of them with a sum that fits again. */
async function hurtBackup(next: Next): Promise<string> {
  const lines = [...(await savedLines())];
  for (let n = next() < 0.3 ? 2 : 1; n > 0; n -= 1) {
    const at = Math.floor(next() * lines.length);
    const line = lines[at] ?? '';
    lines[at] = hurtJson(line.startsWith('{') ? line : '{}', next);
    if (next() < 0.5 && lines[at] !== '') {
      try {
        lines[at] = canonicalText(JSON.parse(lines[at] ?? ''));
      } catch {
        // It stays as it is: no JSON, or none that has one text.
      }
    }
  }
  if (next() < 0.5) {
    const sum = new LineSum();
    for (const line of lines.slice(1, -1)) sum.add(`${line}\n`);
    const end: object = JSON.parse((await savedLines()).at(-1) ?? '');
    lines[lines.length - 1] = canonicalText({ ...end, sha256: sum.hex() });
  }
  return lines.map((line) => `${line}\n`).join('');
}

async function openBackup(text: string): Promise<Told> {
  const file = await sealedText(text);
  const target = await emptyJournal();
  return toldOf(await restoreBackup({ ...target, crypto: quickCrypto().crypto, file, passphrase }));
}

/** The bytes of a real file, one character a byte, hurt before they are decrypted. */
async function hurtSealed(next: Next): Promise<string> {
  const file = await sealedText(...(await savedLines()).map((line) => `${line}\n`));
  const bytes = new Uint8Array(await file.arrayBuffer());
  const feed = bytes.indexOf(0x0a);
  const binary = [...bytes].map((byte) => String.fromCharCode(byte)).join('');
  const head = binary.slice(0, feed);
  if (next() < 0.6) return hurtJson(head, next) + binary.slice(feed);
  return hurtText(binary, next);
}

async function openSealed(binary: string): Promise<Told> {
  const file = new Blob([Uint8Array.from(binary, (character) => character.charCodeAt(0))]);
  const target = await emptyJournal();
  return toldOf(await restoreBackup({ ...target, crypto: quickCrypto().crypto, file, passphrase }));
}

const translated = lazily(() =>
  JSON.stringify({
    protocol: 'thin-veneers',
    language: 'pt-PT',
    texts: { [hashText('Etch')]: 'Condicionar', [hashText('Rinse')]: 'Lavar' },
  }),
);

const EDITS = JSON.stringify([
  { do: 'set-text', spot: { part: 'steps', id: 'etch', key: 'title' }, text: 'Other' },
  { do: 'move', part: 'steps', id: 'etch', before: null },
  {
    do: 'set-figure',
    spot: { part: 'steps', id: 'etch', key: 'action.maxMs' },
    figure: { value: 25_000, basis: { kind: 'practice' } },
  },
  { do: 'remove', part: 'cautions', id: 'acid-eyes', reason: 'told elsewhere' },
]);

const LABELS = [
  ']d2010950400005911817271231\u001d1042A',
  '(01)09504000059118(17)271231(10)42A',
  '+A99912345/$$52001510X3G',
  '+H123PARTNO1234567890120',
];

const drafts = lazily(() => ({ start: confirmedProtocol() }));

function openEdits(text: string): Told {
  const json = parseJsonText(text, 'edits');
  if (!json.ok) return toldOf(json);
  const edits = parseEdits(json.value);
  if (edits === null) return null;
  return toldOf(restoreHistory({ ...drafts(), edits, done: edits.length }));
}

function openLabel(text: string): Told {
  readScans([text, text.slice(1)], { presentYear: 2026 });
  return readDeviceLabel({ text, presentYear: 2026 }).faults.map(
    (fault) => `label: expected a label, got ${faultLine(fault)}`,
  );
}

const leadLog = lazily(() => {
  const all: object[] = [];
  let prev = '0'.repeat(64);
  for (let seq = 0; seq < 5; seq += 1) {
    const entry = { seq, atWallMs: seq, by: 'A', deed: 'opened', values: { n: seq }, prev };
    prev = hashText(canonicalText(entry));
    all.push({ ...entry, hash: prev });
  }
  return JSON.stringify(all);
});

function openLeadLog(text: string): Told {
  const json = parseJsonText(text, 'log');
  if (!json.ok) return toldOf(json);
  verifyLeadLog(Array.isArray(json.value) ? json.value : [json.value]);
  return null;
}

const fileLines = lazily(() => {
  const entries = entriesOf(oneOf(() => 0, recordings())).slice(0, 6);
  return entries.map((body) => encodeRecord({ record: 'entry', body })).join('');
});

/** The command line with hurt files and arguments, as `{ args, files }`. */
function hurtCommand(next: Next): string {
  const files = {
    'p.json': oneOf(next, protocols()),
    'c.json': caseText(oneOf(next, CASES)),
    's.json': demoScript(oneOf(next, SCRIPTS)),
    'j.json': journalJson({ caseId: 'case-1', entries: entriesOf(oneOf(next, recordings())) }),
  };
  const which = oneOf(next, ['p.json', 'c.json', 's.json', 'j.json'] as const);
  const hurt = { ...files, [which]: hurtJson(files[which], next) };
  const form = oneOf(next, EXPORT_FORMS).id;
  const calc = oneOf(next, ['dose', 'udi', 'temporal', 'rounds', 'spots', 'mixes']);
  const json = JSON.stringify(hurtValue({ seconds: 20, text: 'x', units: 8, minMs: 5 }, next));
  const args = oneOf(next, [
    ['check', 'p.json'],
    ['check', 'c.json', '--protocol', 'p.json'],
    ['plan', 'c.json', '--json'],
    ['rehearse', 'c.json', 's.json'],
    ['record', 'j.json', '--as', form],
    ['calc', calc, json],
  ]);
  const changed = args.map((arg) => (next() < 0.08 ? hurtText(arg, next) : arg));
  return JSON.stringify({ args: changed, files: hurt });
}

interface Command {
  readonly args: readonly string[];
  readonly files: Readonly<Record<string, string>>;
}

async function openCommand(text: string): Promise<Told> {
  const { args, files } = JSON.parse(text) as Command;
  let errors = '';
  const code = await main(args, {
    readFile: async (path) => {
      const found = files[path];
      if (found === undefined) throw Object.assign(new Error('no'), { code: 'ENOENT' });
      return found;
    },
    stdout: () => undefined,
    stderr: (words) => {
      errors += words;
    },
  });
  if (code !== 2) return null;
  if (!errors.endsWith('\n')) return [`${args.join(' ')} ended with 2 without a whole line`];
  return [errors.slice(0, -1)];
}

export const DOORS: readonly Door[] = [
  {
    name: 'a protocol',
    share: 8,
    hurt: (next) => hurtJson(oneOf(next, protocols()), next),
    open: (text) => {
      const parsed = parseProtocolText(text);
      if (parsed.ok) checkProtocol(parsed.value);
      return toldOf(parsed);
    },
  },
  {
    name: 'a case',
    share: 12,
    hurt: (next) => hurtJson(caseText(oneOf(next, CASES)), next),
    open: (text) => toldOf(parseCaseText(text)),
  },
  {
    name: 'a script',
    share: 8,
    hurt: (next) => hurtJson(demoScript(oneOf(next, SCRIPTS)), next),
    open: (text) => toldOf(parseScriptText(text)),
  },
  { name: 'a journal', share: 6, hurt: hurtJournal, open: openJournal },
  {
    name: 'a file of many journals',
    share: 4,
    hurt: (next) => hurtJson(journalsParts([hurtJournal(next), hurtJournal(next)]).join(''), next),
    open: (text) => {
      const many = journalsIn(text);
      const own = many === null ? null : journalOf(many, null);
      return own === null || own.ok ? null : toldOf(own);
    },
  },
  { name: 'the contents of a backup', share: 4, hurt: hurtBackup, open: openBackup },
  { name: 'the bytes of a backup', share: 4, hurt: hurtSealed, open: openSealed },
  {
    name: 'a file of another clinic',
    share: 6,
    hurt: (next) => {
      const protocol = confirmedProtocol();
      const from = {
        clinic: 'Harbour',
        by: 'Lead L',
        tablet: 'tablet-1',
        onWallMs: 1_780_000_000_000,
      };
      const file = { protocol, hash: protocolHash(protocol), ancestors: ['a'.repeat(64)], from };
      return hurtJson(protocolFileText(file), next);
    },
    open: (text) => toldOf(parseProtocolFileText(text)),
  },
  {
    name: 'a translation',
    share: 8,
    hurt: (next) => hurtJson(translated(), next),
    open: (text) => {
      const json = parseJsonText(text, 'translation');
      return toldOf(json.ok ? parseTranslation(json.value) : json);
    },
  },
  {
    name: 'the edits of a draft',
    share: 6,
    hurt: (next) => hurtJson(EDITS, next),
    open: openEdits,
  },
  {
    name: 'the lead’s log',
    share: 6,
    hurt: (next) => hurtJson(leadLog(), next),
    open: openLeadLog,
  },
  {
    name: 'a label',
    share: 8,
    hurt: (next) => hurtText(oneOf(next, LABELS), next),
    open: openLabel,
  },
  {
    name: 'the private file',
    share: 6,
    hurt: (next) => hurtText(fileLines(), next),
    open: (text) => {
      readLines(new TextEncoder().encode(text));
      return null;
    },
  },
  {
    name: 'a product sheet',
    share: 8,
    hurt: (next) => hurtJson(JSON.stringify(etchingGelSheet()), next),
    open: (text) => {
      const json = parseJsonText(text, 'sheet');
      const parsed = json.ok ? parseSheet(json.value) : json;
      // What was read goes on as far as a draft and its checks, and through every protocol.
      if (parsed.ok) {
        sheetProblems(nextRevisionDraft(parsed.value));
        sheetChanges(confirmedProtocol(), parsed.value);
      }
      return toldOf(parsed);
    },
  },
  { name: 'the command line', share: 6, hurt: hurtCommand, open: openCommand },
  { name: 'a follow-up', share: 6, hurt: hurtFollowUp, open: openFollowUp },
];

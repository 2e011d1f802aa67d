/** Work that a killed browser was in the midst of, and what of it was acknowledged, within reach of the run. */
import type { Result } from '../../../src/base/result.ts';
import { canonicalText } from '../../../src/protocol/canonical-text.ts';
import { backupLines } from '../../../src/runtime/backup/backup-lines.ts';
import { checkLines, Merger } from '../../../src/runtime/backup/backup-merge.ts';
import { documentOf, FACT_KINDS, listFacts } from '../../../src/runtime/facts/fact.ts';
import { say } from '../../../src/runtime/facts/fact-writer.ts';
import { factOfDocument } from '../../../src/runtime/facts/legacy-facts.ts';
import { takeOverFacts } from '../../../src/runtime/facts/take-over-facts.ts';
import { createMemoryJournal } from '../../storage/memory-journal.ts';
import { pageJournal } from '../../storage/page-journal.ts';
import { opening, pressOf, stampAt } from '../../storage/sample-case.ts';
import type { Acknowledged, WorkKind } from '../work.ts';

const NAME = 'lutewatch';
const TABLET = 'tablet';
const journal = pageJournal(NAME);
let epoch = 0;

function must<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

const facts = { journal, epoch: () => epoch, tablet: () => TABLET, nowWallMs: () => Date.now() };

/** Opens the journal to write and takes over what was kept in other ways before. */
async function start(): Promise<void> {
  epoch = must(await journal.startWriting()).epoch;
  must(await takeOverFacts(journal, { epoch, tablet: TABLET }));
}

const lot = (id: string) => ({
  id,
  materialClass: 'gel',
  label: 'Etch gel',
  lot: id,
  refrigerated: false,
});

/** The lines of a backup of another tablet that has one case and one recalled lot. */
async function linesOf(name: string) {
  const there = createMemoryJournal();
  const { epoch: own } = must(await there.startWriting());
  const recorded = [opening(name), ...pressOf(3, 1)];
  must(await there.append({ caseId: name, epoch: own, recorded }));
  const { id: _, ...fields } = lot(name);
  const parts = { ...facts, journal: there, epoch: () => own };
  const said = [
    { type: 'received', fields },
    { type: 'recalled', onWallMs: 1, reason: 'letter' },
  ];
  const kept = must(await say(parts, { kind: 'material', item: name, said, by: null }));
  const lines: string[] = [];
  for await (const line of backupLines(there)) lines.push(line.trimEnd());
  return { lines, kept, entries: recorded.length };
}

async function* streamed(lines: readonly string[]): AsyncGenerator<string> {
  yield* lines;
}

/** One piece of work, and what may be relied on once it is done. */
const WORK: Readonly<
  Record<WorkKind, (name: string, n: number) => Promise<readonly Acknowledged[]>>
> = {
  async press(name, n) {
    const recorded = n === 0 ? [opening(name)] : pressOf(1, n);
    must(await journal.append({ caseId: name, epoch, recorded }));
    return [{ what: 'entries', id: name, count: n + 1 }];
  },
  async confirm(name, n) {
    const item = `${name}-${n}`;
    const said = [
      { type: 'received', fields: lot(item) },
      { type: 'opened', on: '2026-11-01' },
    ];
    const kept = must(await say(facts, { kind: 'material', item, said, by: null }));
    return kept.map(({ id }) => ({ what: 'fact', id, count: 1 }));
  },
  async export(name, n) {
    const id = `${name}-${n}`;
    must(await journal.documents.put({ kind: 'exported', id, value: { n }, epoch }));
    return [{ what: 'document', id, count: 1 }];
  },
  async restore(name, n) {
    const of = `${name}-${n}`;
    const { lines, kept, entries } = await linesOf(of);
    const found = await checkLines(streamed(lines));
    must(await new Merger({ journal, epoch, found }).run(streamed(lines), () => undefined));
    return [
      { what: 'entries', id: of, count: entries },
      ...kept.map(({ id }) => ({ what: 'fact', id, count: 1 }) as const),
    ];
  },
  async delete(name, n) {
    const caseId = `${name}-${n}`;
    must(await journal.append({ caseId, epoch, recorded: [opening(caseId)] }));
    const deletion = { caseId, epoch, stamp: stampAt(0), by: 'p1', reason: 'kept long enough' };
    must(await journal.deleteCase(deletion));
    return [{ what: 'deleted', id: caseId, count: 1 }];
  },
  async migrate(name, n) {
    const id = `${name}-${n}`;
    const put = { kind: 'material', id, value: lot(id), epoch };
    const stored = must(await journal.documents.put(put));
    must(await takeOverFacts(journal, { epoch, tablet: TABLET }));
    const fact = factOfDocument(stored, { tablet: TABLET });
    return fact === null ? [] : [{ what: 'fact', id: documentOf(fact).id, count: 1 }];
  },
};

/** Works until the page dies, and tells everything that was acknowledged. */
async function work(o: { kind: WorkKind; name: string; pauseMs: number }): Promise<void> {
  for (let n = 0; ; n += 1) {
    for (const done of await WORK[o.kind](o.name, n)) window.workAcknowledged(done);
    await new Promise((resolve) => setTimeout(resolve, o.pauseMs));
  }
}

/** What of it is not there, as text. */
async function missing(wanted: readonly Acknowledged[]): Promise<readonly string[]> {
  const known = new Set<string>();
  for (const kind of FACT_KINDS) {
    for (const { id } of must(await listFacts(journal, kind)).facts) known.add(id);
  }
  const gone = new Set(must(await journal.listTombstones()).map(({ caseId }) => caseId));
  const exported = new Set(must(await journal.documents.list('exported')).map(({ id }) => id));
  const lost: string[] = [];
  for (const { what, id, count } of wanted) {
    const isHere =
      what === 'fact'
        ? known.has(id)
        : what === 'document'
          ? exported.has(id)
          : what === 'deleted'
            ? gone.has(id)
            : must(await journal.read(id)).entries.length >= count;
    if (!isHere) lost.push(canonicalText({ what, id, count }));
  }
  return lost;
}

const page = { start, work, missing };

declare global {
  interface Window {
    page: typeof page;
    workAcknowledged: (done: Acknowledged) => void;
  }
}

window.page = page;

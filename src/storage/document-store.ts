/** The journal's side of documents: whole values by kind and id, the last one put counts. */

import { ok } from '../base/result.ts';
import { listDocuments } from './database-reads.ts';
import { importDocument, putDocument } from './database-transactions.ts';
import { checkStorable } from './incoming.ts';
import type { DocumentStore, JournalNews, JournalResult, StoredDocument } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import type { Write } from './write-queue.ts';

interface DocumentHost {
  readonly read: <T>(read: (database: JournalDatabase) => Promise<T>, none: T) => JournalResult<T>;
  readonly submit: <T>(write: Write<T>) => JournalResult<T>;
  readonly tell: (news: JournalNews) => void;
}

const checked = ({ kind, id, value }: Pick<StoredDocument, 'kind' | 'id' | 'value'>) =>
  checkStorable(value, `journal.documents.${kind}.${id}`);

/** The documents of the journal that `host` belongs to. */
export function createDocumentStore({ read, submit, tell }: DocumentHost): DocumentStore {
  const put: DocumentStore['put'] = async (document) => {
    const { kind, id } = document;
    const refusal = checked(document);
    if (refusal !== null) return refusal;
    const stored = await submit({
      store: (database) => putDocument(database, document),
      records: (body) => [{ record: 'document', body }],
      early: () => null,
    });
    if (stored.ok) tell({ type: 'document', kind, id });
    return stored;
  };
  return {
    get: (kind, { id }) =>
      read<unknown>(async (database) => {
        const document = await database.get('documents', [kind, id]);
        return document?.value ?? null;
      }, null),
    list: (kind) => read((database) => listDocuments(database, kind), []),
    put,
    async delete(document) {
      const gone = await put({ ...document, value: null });
      return gone.ok ? ok(null) : gone;
    },
    listAll: () => read((database) => database.getAll('documents'), []),
    async adopt(document) {
      const { kind, id } = document;
      const refusal = checked(document);
      if (refusal !== null) return refusal;
      const taken = await submit({
        store: (database) => importDocument(database, document),
        records: (body) => (body === null ? [] : [{ record: 'document', body }]),
        early: () => null,
      });
      if (!taken.ok) return taken;
      if (taken.value !== null) tell({ type: 'document', kind, id });
      return ok({ taken: taken.value !== null });
    },
  };
}

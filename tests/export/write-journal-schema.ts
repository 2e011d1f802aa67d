import { writeFileSync } from 'node:fs';
import { publishedJournalSchema, publishedJournalsSchema } from './journal-schema.ts';

/** Writes the published JSON Schemas anew: `npx tsx tests/export/write-journal-schema.ts`. */
writeFileSync(
  new URL('../../shared/journal.schema.json', import.meta.url),
  publishedJournalSchema(),
);
writeFileSync(
  new URL('../../shared/journals.schema.json', import.meta.url),
  publishedJournalsSchema(),
);

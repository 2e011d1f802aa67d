import { writeFileSync } from 'node:fs';
import { publishedJournalSchema } from './journal-schema.ts';

/** Writes the published JSON Schema anew: `npx tsx tests/export/write-journal-schema.ts`. */
writeFileSync(
  new URL('../../shared/journal.schema.json', import.meta.url),
  publishedJournalSchema(),
);

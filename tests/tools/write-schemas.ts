import { writeFileSync } from 'node:fs';
import { publishedSchemas } from './published-schemas.ts';

/** Writes the published JSON Schemas anew: `npx tsx tests/tools/write-schemas.ts`. */
for (const { file, text } of publishedSchemas()) {
  writeFileSync(new URL(`../../shared/${file}`, import.meta.url), text);
}

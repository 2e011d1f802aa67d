/**
 * Runs every benchmark beside this file and prints what each returns as one line of JSON. A
 * benchmark is a file `*.bench.ts` whose default export is a function; it may return one record
 * or a list of them. `npm run bench -- many-cases` runs the named ones alone.
 */
import { readdir } from 'node:fs/promises';

type Figures = Readonly<Record<string, unknown>>;

function isBenchmark(value: unknown): value is () => unknown {
  return typeof value === 'function';
}

function records(result: unknown): readonly Figures[] {
  const list: readonly unknown[] = Array.isArray(result) ? result : [result];
  return list.flatMap((item) => (typeof item === 'object' && item !== null ? [{ ...item }] : []));
}

const named = new Set(process.argv.slice(2));

const files = (await readdir(new URL('.', import.meta.url), { recursive: true }))
  .filter((file) => file.endsWith('.bench.ts'))
  .filter((file) => named.size === 0 || named.has(file.replace(/\.bench\.ts$/, '')))
  .sort();

for (const file of files) {
  const module: { readonly default?: unknown } = await import(new URL(file, import.meta.url).href);
  if (!isBenchmark(module.default)) throw new Error(`${file} has no function as default export.`);
  const startedAtMs = performance.now();
  const result = await module.default();
  const tookMs = Math.round(performance.now() - startedAtMs);
  const bench = file.replace(/\.bench\.ts$/, '');
  const lines = records(result);
  for (const line of lines.length === 0 ? [{}] : lines) {
    console.log(JSON.stringify({ bench, ...line, tookMs }));
  }
}

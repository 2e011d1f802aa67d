/** The simulator and the code that it runs, in one file. */
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Builds it and returns where it lies. */
export async function bundle(): Promise<string> {
  const outDir = here('../../node_modules/.cache/lutewatch/simulate');
  await build({
    configFile: false,
    root: here('../..'),
    logLevel: 'warn',
    build: {
      ssr: here('./run.ts'),
      outDir,
      emptyOutDir: true,
      minify: false,
      target: 'node20',
      rolldownOptions: { output: { entryFileNames: 'run.mjs', codeSplitting: false } },
    },
  });
  return `${outDir}/run.mjs`;
}

import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Plugin } from 'vite';

const QUERY = '?packed';

/**
 * `import url from './x.json?packed'` gives the address of the document: compressed in a build, so
 * that a tablet keeps a fifth of its size, and as it is while developing. The name does not end in
 * `.gz`, because some servers would then unpack it on the way. `change` is what a build makes of a document.
 */
export function packedJson(change: (document: unknown) => unknown = (same) => same): Plugin {
  let isBuild = false;
  return {
    name: 'lutewatch-packed-json',
    enforce: 'pre',
    configResolved(config) {
      isBuild = config.command === 'build';
    },
    async load(id) {
      if (!id.endsWith(QUERY)) return null;
      const path = id.slice(0, -QUERY.length);
      if (!isBuild) return `export { default } from ${JSON.stringify(`${path}?url`)};`;
      const text = JSON.stringify(change(JSON.parse(await readFile(path, 'utf8'))));
      const ref = this.emitFile({
        type: 'asset',
        name: `${basename(path, '.json')}.packed`,
        source: gzipSync(text, { level: 9 }),
      });
      return `export default import.meta.ROLLUP_FILE_URL_${ref};`;
    },
  };
}

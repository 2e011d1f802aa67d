import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import type { Plugin } from 'vite';
import { assert } from '../../src/base/assert.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { PSEUDO_TAG, pseudoTranslation } from './pseudo-protocol.ts';
import { pseudoText } from './pseudo-text.ts';

/** Whether a literal is a text for people, and not a code that is compared, looked up or imported. */
function isText(node: ts.Node): boolean {
  const { parent } = node;
  if (ts.isImportDeclaration(parent) || ts.isExportDeclaration(parent)) return false;
  if (ts.isLiteralTypeNode(parent) || ts.isCaseClause(parent)) return false;
  if (ts.isElementAccessExpression(parent)) return parent.argumentExpression !== node;
  if (ts.isPropertyAssignment(parent) && parent.name === node) return false;
  if (ts.isBinaryExpression(parent)) {
    const compares = [
      ts.SyntaxKind.EqualsEqualsEqualsToken,
      ts.SyntaxKind.ExclamationEqualsEqualsToken,
    ];
    return !compares.includes(parent.operatorToken.kind);
  }
  return !(ts.isCallExpression(parent) && parent.expression.getText().endsWith('In'));
}

interface Edit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const quoted = (text: string): string => JSON.stringify(text).slice(1, -1).replaceAll('`', '\\`');

function literalEdit(node: ts.StringLiteralLike, file: ts.SourceFile): Edit {
  const told = /[a-z]/i.test(node.text) ? `⟦${pseudoText(node.text)}⟧` : node.text;
  return { from: node.getStart(file), to: node.getEnd(), text: `\`${quoted(told)}\`` };
}

function templateEdits(node: ts.TemplateExpression, file: ts.SourceFile): Edit[] {
  const parts = [node.head, ...node.templateSpans.map((span) => span.literal)];
  if (!parts.some((part) => /[a-z]/i.test(part.text))) return [];
  return parts.map((part, i) => {
    const isLast = i === parts.length - 1;
    const text = `${i === 0 ? '⟦' : ''}${pseudoText(part.text)}${isLast ? '⟧' : ''}`;
    const [open, close] = [i === 0 ? '`' : '}', isLast ? '`' : '${'];
    return { from: part.getStart(file), to: part.getEnd(), text: `${open}${quoted(text)}${close}` };
  });
}

/** A file of English words with every text in the pseudo-language. */
export function pseudoWords(source: string): string {
  const file = ts.createSourceFile('words.ts', source, ts.ScriptTarget.Latest, true);
  const edits: Edit[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isStringLiteralLike(node) && isText(node)) edits.push(literalEdit(node, file));
    if (ts.isTemplateExpression(node) && isText(node)) edits.push(...templateEdits(node, file));
    ts.forEachChild(node, visit);
  };
  visit(file);
  return edits
    .sort((a, b) => b.from - a.from)
    .reduce((text, edit) => text.slice(0, edit.from) + edit.text + text.slice(edit.to), source);
}

const QUERY = '?pseudo';
const PROTOCOLS = fileURLToPath(new URL('../../shared/protocols/', import.meta.url));

/** Stands for `src/runtime/library/shipped-language.ts`: every shipped protocol is translated. */
async function pseudoShipped(): Promise<string> {
  const names = (await readdir(PROTOCOLS)).filter(
    (name) => name.endsWith('.json') && name !== 'corrections.json',
  );
  const imports = names.map(
    (name, i) => `import address${i} from ${JSON.stringify(join(PROTOCOLS, name) + QUERY)};`,
  );
  const files = names.map(
    (name, i) => `'/translations/${PSEUDO_TAG}/${name}': async () => address${i},`,
  );
  const language = `export const LANGUAGE = '${PSEUDO_TAG}';`;
  return [...imports, language, 'export const TRANSLATIONS = {', ...files, '};'].join('\n');
}

/** Builds the app in the pseudo-language, the protocols that ship among it. */
export function pseudoLanguage(): Plugin {
  return {
    name: 'lutewatch-pseudo-language',
    enforce: 'pre',
    async load(id) {
      if (id.endsWith('/src/runtime/library/shipped-language.ts')) return pseudoShipped();
      if (!id.endsWith(QUERY)) return null;
      const read = parseProtocol(JSON.parse(await readFile(id.slice(0, -QUERY.length), 'utf8')));
      assert(read.ok, `${id} is a protocol`);
      const source = JSON.stringify(pseudoTranslation(read.value));
      const ref = this.emitFile({ type: 'asset', name: `${read.value.id}.pseudo.json`, source });
      return `export default import.meta.ROLLUP_FILE_URL_${ref};`;
    },
    transform(code, id) {
      return /\/src\/words\/en\/[^/]+\.ts$/.test(id) ? pseudoWords(code) : null;
    },
  };
}

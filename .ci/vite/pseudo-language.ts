import ts from 'typescript';
import type { Plugin } from 'vite';

/**
 * A language made by the build for tests: English with accents, in brackets and 40 % longer. What is
 * drawn without brackets was never handed to a translator; what is cut has no room for another
 * language. The texts of `src/words/en` are changed where they stand, so that what is put into them
 * (teeth, titles, numbers) stays as it is.
 */
const LONGER_BY = 0.4;
const ACCENTED: Readonly<Record<string, string>> = Object.fromEntries(
  [...'aáeéiíoóuúyýcčdďnňrřsštťzžlĺAÁEÉIÍOÓUÚYÝCČDĎNŇRŘSŠTŤZŽLĹgĝGĜhĥHĤjĵJĴwŵWŴ'].reduce<
    [string, string][]
  >((pairs, letter, i, all) => {
    if (i % 2 === 0) pairs.push([letter, all[i + 1] ?? letter]);
    return pairs;
  }, []),
);

/** "Today" as "Ťóóďáý", without brackets. Letters grow inside words, so that lines break as ever. */
export function pseudoText(text: string): string {
  let owed = 0;
  return [...text]
    .map((letter) => {
      if (!/[a-z]/i.test(letter)) return letter;
      const accented = ACCENTED[letter] ?? letter;
      owed += LONGER_BY;
      if (owed < 1) return accented;
      owed -= 1;
      return accented + accented.toLowerCase();
    })
    .join('');
}

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

/** Builds the app in the pseudo-language. */
export function pseudoLanguage(): Plugin {
  return {
    name: 'lutewatch-pseudo-language',
    enforce: 'pre',
    transform(code, id) {
      return /\/src\/words\/en\/[^/]+\.ts$/.test(id) ? pseudoWords(code) : null;
    },
  };
}

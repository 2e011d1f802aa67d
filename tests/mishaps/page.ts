/** The page that shows every row of the mishap tables beside its picture, and what was changed on reading it. */
import { filled } from './play.ts';
import type { MishapRow } from './table.ts';

interface Made {
  /** The picture files of each row. */
  readonly drawn: ReadonlyMap<string, readonly string[]>;
  /** By row: what was changed on reading its picture. */
  readonly read: unknown;
}

const HEAD = `# Mishaps, and what the chair says

Every row of the tables in \`tests/mishaps\`: what happens, what the screen must say, and the screen. The
tests play each row in every family that it names, with one press for each step, so that each can go wrong by
itself; the picture is of the first. \`npm run mishaps\` takes the pictures anew. Each was read as a calm
colleague would read it: is it one true thing, are the words for these units, is what is
asked first right?
`;

function changed(read: unknown, id: string): string {
  if (typeof read !== 'object' || read === null || !(id in read)) return '';
  const notes: unknown = Object.entries(read).find(([key]) => key === id)?.[1];
  return typeof notes === 'string' ? `Changed on reading: ${notes}\n\n` : '';
}

function section(row: MishapRow, { drawn, read }: Made): string {
  const name = row.cases[0] ?? '';
  const says = row.musts.map(({ key, value }) => `- ${key}: ${filled(name, value)}`).join('\n');
  const pictures = (drawn.get(row.id) ?? [])
    .map((file) => `![${row.id}](pictures/${file})`)
    .join('\n');
  const script = filled(name, row.script);
  return `## ${row.happens}

${row.cases.join('; ')}

\`\`\`text
${script}
\`\`\`

${says}

${changed(read, row.id)}${pictures}
`;
}

/** The whole page, as Markdown. */
export function mishapPage(rows: readonly MishapRow[], made: Made): string {
  return [HEAD, ...rows.map((row) => section(row, made))].join('\n');
}

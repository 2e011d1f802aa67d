/** The follow-up as a file: hurt as text, hurt in what an entry says and named anew, and as the lines of a backup. */
import { problemLine } from '../../src/base/problem.ts';
import { FOLLOW_UP_FORMS, followUpFile } from '../../src/export/follow-up-forms.ts';
import { followUpFileText, readFollowUpFile } from '../../src/export/follow-up-json.ts';
import { isStorable } from '../../src/protocol/canonical-text.ts';
import { backupLines, LineSum } from '../../src/runtime/backup/backup-lines.ts';
import { asFact, type Fact, listFacts } from '../../src/runtime/facts/fact.ts';
import { must } from '../backup/filled-journal.ts';
import { followedClinic, TODAY } from '../export/follow-up-clinic.ts';
import { hurtText, hurtValue, type Next, oneOf } from './mutate.ts';

let made: { readonly entries: readonly Fact[]; readonly lines: readonly string[] } | null = null;

async function real() {
  if (made !== null) return made;
  const { journal } = await followedClinic();
  const lines: string[] = [];
  for await (const line of backupLines(journal)) lines.push(line);
  made = { entries: must(await listFacts(journal, 'follow-up')).facts, lines };
  return made;
}

/** The entries as they are, but for what one of them says: its name fits that. */
function hurtEntry(entries: readonly Fact[], next: Next): string {
  const one = oneOf(next, entries);
  const said = hurtValue(one.said, next);
  const { id: _, ...rest } = one;
  const hurt = isStorable(said) ? asFact({ ...rest, said }) : one;
  return followUpFileText({ entries: entries.map((e) => (e === one ? hurt : e)), today: TODAY });
}

/** One line of a backup is hurt; half of them have a sum that fits again. */
function hurtLines(all: readonly string[], next: Next): string {
  const at = Math.floor(next() * all.length);
  const lines = all.with(at, hurtText(all[at] ?? '', next));
  if (next() < 0.5 || at === all.length - 1) return lines.join('');
  const sum = new LineSum();
  for (const line of lines.slice(1, -1)) sum.add(line);
  return lines
    .with(-1, (all.at(-1) ?? '').replace(/"sha256":"[^"]*"/, `"sha256":"${sum.hex()}"`))
    .join('');
}

export async function hurtFollowUp(next: Next): Promise<string> {
  const { entries, lines } = await real();
  const draw = next();
  if (draw < 0.3) return hurtLines(lines, next);
  if (draw < 0.7) return hurtEntry(entries, next);
  return hurtText(followUpFileText({ entries, today: TODAY }), next);
}

/** What is read goes on into every form. */
export async function openFollowUp(text: string): Promise<readonly string[] | null> {
  const read = readFollowUpFile(text);
  if (!read.ok) return [problemLine(read.error)];
  const { followUps, today, roots, problems } = read.value;
  for (const form of FOLLOW_UP_FORMS) followUpFile({ followUps, today, roots }, form);
  return problems.map(problemLine);
}

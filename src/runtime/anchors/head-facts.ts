/** What a head says: how many entries a chain had at one time, and the hash of the last. */
import * as v from 'valibot';
import { fieldsOf } from '../../base/json.ts';
import type { Anchor } from '../../export/anchor.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Fact } from '../facts/fact.ts';

export const HEAD = 'head';

/** What the head of a desk's log is about; that of a case is about its id. */
export const logItem = (tablet: string): string => `lead-log ${tablet}`;

/** Whether it is the head of a desk's log. */
export const isLogHead = ({ kind, item }: Pick<Fact, 'kind' | 'item'>): boolean =>
  kind === HEAD && item.startsWith(logItem(''));

/** Whether it is the head of a case that went on then: only the last of a case is kept, and not as a fact. */
export const isRunningHead = ({ kind, said }: Pick<Fact, 'kind' | 'said'>): boolean =>
  kind === HEAD && fieldsOf(said)['running'] === true;

const hex = (bytes: number) => v.pipe(v.string(), v.regex(new RegExp(`^[0-9a-f]{${2 * bytes}}$`)));

const saidSchema = v.object({
  type: v.literal('head'),
  entries: v.pipe(v.number(), v.safeInteger(), v.minValue(1)),
  head: hex(32),
  signed: v.nullable(v.object({ publicKey: hex(32), signature: hex(64) })),
});

export function anchorOf({ said }: Pick<Fact, 'said'>): Anchor | null {
  const parsed = parsedOr(saidSchema, said);
  return parsed && { entries: parsed.entries, head: parsed.head, signed: parsed.signed };
}

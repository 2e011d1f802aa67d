/** From stored data to edits. Only the shape of the edit: what it makes is parsed when it is done. */
import * as v from 'valibot';
import { type Edit, PARTS } from './edit-types.ts';

const part = v.picklist(PARTS);
const spot = v.strictObject({
  part: v.picklist([...PARTS, 'protocol']),
  id: v.string(),
  key: v.string(),
});
const before = v.nullable(v.string());
const item = v.looseObject({ id: v.string() });

const editSchema = v.variant('do', [
  v.strictObject({ do: v.literal('set-figure'), spot, figure: v.looseObject({}) }),
  v.strictObject({ do: v.literal('set-basis'), spots: v.array(spot), basis: v.looseObject({}) }),
  v.strictObject({ do: v.literal('set-text'), spot, text: v.string() }),
  v.strictObject({ do: v.literal('set-field'), spot, value: v.unknown() }),
  v.strictObject({ do: v.literal('clear'), spot }),
  v.strictObject({ do: v.literal('add'), part, item, before }),
  v.strictObject({ do: v.literal('duplicate-step'), step: v.string(), newId: v.string() }),
  v.strictObject({
    do: v.literal('remove'),
    part,
    id: v.string(),
    reason: v.exactOptional(v.string()),
  }),
  v.strictObject({ do: v.literal('move'), part, id: v.string(), before }),
  v.strictObject({ do: v.literal('replace'), protocol: v.looseObject({}) }),
]);

/** Reads a list of edits; null when it is none. */
export function parseEdits(value: unknown): readonly Edit[] | null {
  const parsed = v.safeParse(v.array(editSchema), value);
  // The parser of protocols judges the payload of every edit when the edits are replayed.
  return parsed.success ? (parsed.output as unknown as readonly Edit[]) : null;
}

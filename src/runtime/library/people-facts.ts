/**
 * Who works at the clinic, as its tablets said. Somebody is on the list once, by name. One who was taken off
 * is off it for every word that was known then; what a tablet said without knowing of that stands.
 */
import * as v from 'valibot';
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import { personKey } from '../../base/person-key.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Fact } from '../facts/fact.ts';
import { FactHistory } from '../facts/fact-history.ts';

export const PERSON_ROLES = ['dentist', 'assistant', 'lead'] as const;

export type PersonRole = (typeof PERSON_ROLES)[number];

/** Somebody of the clinic, as a record names them. */
export interface ClinicPerson {
  /** A name, or initials; without blanks around it. */
  readonly name: string;
  readonly role: PersonRole;
}

const saidSchema = v.variant('type', [
  v.object({
    type: v.literal('listed'),
    name: v.pipe(v.string(), v.minLength(1), v.maxLength(NAME_LENGTH_MAX)),
    role: v.picklist(PERSON_ROLES),
  }),
  v.object({ type: v.literal('taken-off') }),
]);

export type PersonSaid = v.InferOutput<typeof saidSchema>;

interface PersonSide extends ClinicPerson {
  readonly fact: Fact;
}

/**
 * What stands of one person, from the facts of that item in any order: nothing where they were taken off; more than
 * one where tablets that did not know of each other wrote them differently, the one that is shown last.
 */
export function personSides(facts: readonly Fact[]): readonly PersonSide[] {
  const read = new Map(
    facts.flatMap((fact) => {
      const said = parsedOr(saidSchema, fact.said);
      const isOfItem = said?.type === 'taken-off' || personKey(said?.name ?? '') === fact.item;
      return said === null || !isOfItem ? [] : [[fact, said] as const];
    }),
  );
  const history = new FactHistory([...read.keys()]);
  const sides = new Map<string, PersonSide>();
  for (const fact of history.lastOf(history.inOrder)) {
    const said = read.get(fact);
    if (said?.type !== 'listed') continue;
    const { name, role } = said;
    const key = `${role} ${name}`;
    sides.delete(key);
    sides.set(key, { name, role, fact });
  }
  return [...sides.values()];
}

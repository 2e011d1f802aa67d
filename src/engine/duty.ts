/** Who holds a role in a case: the one who took it, else the only one of the case with that role. */
import type { Person } from '../protocol/case-types.ts';
import type { Role } from '../protocol/types.ts';

/** Null where several have the role and nobody said who of them: a record must not guess. */
export function holderOf(o: {
  readonly role: Role;
  readonly people: readonly Person[];
  /** Id of the person who took the role last. */
  readonly taken: string | undefined;
}): Person | null {
  if (o.taken !== undefined) return o.people.find((p) => p.id === o.taken) ?? null;
  const own = o.people.filter((p) => p.role === o.role);
  return own.length === 1 ? (own[0] ?? null) : null;
}

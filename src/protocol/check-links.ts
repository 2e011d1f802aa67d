/** Whether each link between two steps makes sense for what they are done to. */
import { type Finding, fault } from './finding.ts';
import type { Link, Protocol, Scope, Step } from './types.ts';

interface Joined {
  readonly link: Link | 'last';
  readonly from: Scope;
  readonly to: Scope;
  readonly place: string;
}

function linkFindings({ link: named, from, to, place }: Joined): readonly Finding[] {
  // The last of what belongs to a subject is found the way all of it is.
  const link = named === 'last' ? 'linked' : named;
  const values = { link, from, to };
  if (link === 'same' && from !== to) return [fault('link-needs-same-scope', place, values)];
  if (link === 'linked' && from === to) return [fault('link-needs-other-scope', place, values)];
  if (link === 'previous' && (from === 'case' || to === 'case')) {
    return [fault('link-has-no-order', place, values)];
  }
  return [];
}

type ScopeOf = (step: string) => Scope | null;

function partnerFindings(step: Step, place: string, scopeOf: ScopeOf): readonly Finding[] {
  return (['roundOf', 'beginsWith'] as const).flatMap((key) => {
    const partner = step[key];
    const scope = partner === undefined ? null : scopeOf(partner);
    if (scope === null || scope === step.per) return [];
    const values = { link: 'same', from: step.per, to: scope };
    return [fault('link-needs-same-scope', `${place}.${key}`, values)];
  });
}

function stepFindings(step: Step, place: string, scopeOf: ScopeOf): readonly Finding[] {
  const links = step.after.flatMap((after, i) => {
    const to = scopeOf(after.step);
    if (to === null) return [];
    return linkFindings({
      link: after.link,
      from: step.per,
      to,
      place: `${place}.after[${i}].link`,
    });
  });
  return [...links, ...partnerFindings(step, place, scopeOf)];
}

/** Links of `after`, `roundOf`, `beginsWith`, windows and ways back. */
export function checkLinks(protocol: Protocol): readonly Finding[] {
  const scopes = new Map(protocol.steps.map((step) => [step.id, step.per]));
  const scopeOf: ScopeOf = (step) => scopes.get(step) ?? null;
  return [
    ...protocol.steps.flatMap((step, i) => stepFindings(step, `protocol.steps[${i}]`, scopeOf)),
    ...protocol.windows.flatMap((window, i) => {
      const from = scopeOf(window.from.step);
      const to = scopeOf(window.to.step);
      if (from === null || to === null) return [];
      return linkFindings({ link: window.match, from, to, place: `protocol.windows[${i}].match` });
    }),
    ...protocol.waysBack.flatMap((way, i) =>
      way.voids.flatMap((voided, j) => {
        const to = scopeOf(voided.step);
        if (to === null) return [];
        const place = `protocol.waysBack[${i}].voids[${j}].link`;
        return linkFindings({ link: voided.link, from: way.per, to, place });
      }),
    ),
  ];
}

/** What is read aloud, and stands in the record as it was read. */
import type { ConditioningCode, Repeat } from '../../engine/conditioning.ts';
import type { Role } from '../../protocol/types.ts';

/** How long ago a unit was primed, and its limit, in words. */
interface Primed {
  readonly span: string;
  readonly limit: string;
}

export const readBack = {
  /** A tooth where the case itself is not written in FDI numbers. */
  fdi: (tooth: string): string => `FDI ${tooth}`,
  withPontics: (o: { readonly teeth: string; readonly pontics: string }): string =>
    `${o.teeth} (+ ${o.pontics})`,
  known: (o: { readonly of: string; readonly values: readonly string[] }): string =>
    `${o.of}: ${o.values.join(', ')}`,
  unit: (parts: readonly string[]): string => parts.join(', '),
  protocol: (o: { readonly title: string; readonly revision: number }): string =>
    `${o.title}, revision ${o.revision}`,
  noLot: (o: { readonly label: string; readonly materialClass: string }): string =>
    `${o.label}: ${o.materialClass}, lot not named`,
  lot: (o: {
    readonly label: string;
    readonly materialClass: string;
    readonly lot: string;
  }): string => `${o.label}: ${o.materialClass}, lot ${o.lot}`,
  lotTo: (o: {
    readonly label: string;
    readonly materialClass: string;
    readonly lot: string;
    readonly expiry: string;
  }): string => `${o.label}: ${o.materialClass}, lot ${o.lot}, to ${o.expiry}`,
  noAllergies: 'not noted',
  person: (o: { readonly label: string; readonly role: string }): string => `${o.label}, ${o.role}`,
  roles: { dentist: 'dentist', assistant: 'assistant' } satisfies Record<Role, string>,
  paste: (paste: string): string => `paste ${paste}`,
  pasteWith: (o: { readonly paste: string; readonly modifier: string }): string =>
    `paste ${o.paste} with ${o.modifier}`,
  pasteWithShare: (o: {
    readonly paste: string;
    readonly modifier: string;
    readonly percent: number;
  }): string => `paste ${o.paste} with ${o.modifier} ${o.percent} %`,
  noShade: 'Shade: no accepted trial noted',
  noPaste: (chosen: string): string => `${chosen}, paste not noted`,
  planned: (o: { readonly shade: string; readonly planned: string }): string =>
    `${o.shade}, planned ${o.planned}`,
  plannedFor: (o: { readonly shade: string; readonly units: string }): string =>
    `${o.shade} for ${o.units}`,
  shade: (recipe: string): string => `Shade: ${recipe}`,
  shadeTriedSince: (o: { readonly recipe: string; readonly since: string }): string =>
    `Shade: ${o.recipe}; tried since, not accepted: ${o.since}`,
  ofUnit: (o: { readonly unit: string; readonly words: string }): string => `${o.unit}: ${o.words}`,
  unlikeMix: (units: readonly string[]): string =>
    `Not the shade of ${units.join(', ')} in the same mix`,
  shadesDiffer: 'Units of this mix differ in shade',
  repeat: {
    nothing: (reasons: string): string => `Nothing is repeated: ${reasons} (practice)`,
    priming: (reasons: string): string => `Clean and prime again: ${reasons} (practice)`,
    conditioning: (reasons: string): string => `Condition and prime again: ${reasons} (practice)`,
  } satisfies Record<Repeat, (reasons: string) => string>,
  reasons: (told: readonly string[]): string => told.join('; '),
  reason: {
    direct: (o: Primed): string => `primed ${o.span} ago, limit ${o.limit}`,
    'not-primed': () => 'not primed',
    'limit-passed': (o: Primed): string => `primed ${o.span} ago, limit ${o.limit} passed`,
    'limit-unsure': (o: Primed): string => `primed ${o.span} ago, limit ${o.limit} may have passed`,
    overnight: (o: Primed): string => `primed ${o.span} ago, left overnight`,
    'overnight-unsure': (o: Primed): string => `primed ${o.span} ago, perhaps left overnight`,
    'not-cleaned': () => 'try-in paste was not cleaned out',
    saliva: () => 'saliva in the primed unit',
    blood: () => 'blood in the primed unit',
    'left-in-light': () => 'primed unit left in light',
    'unit-dropped': () => 'the unit fell after priming',
  } satisfies Record<ConditioningCode, (o: Primed) => string>,
  hours: (hours: number): string => `${hours} h`,
  minutes: (minutes: number): string => `${minutes} min`,
  hoursAndMinutes: (o: { readonly hours: number; readonly minutes: number }): string =>
    `${o.hours} h ${o.minutes} min`,
  atLeast: (span: string): string => `at least ${span}`,
  span: (o: { readonly lo: string; readonly hi: string }): string => `${o.lo} to ${o.hi}`,
};

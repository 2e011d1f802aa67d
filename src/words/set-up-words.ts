/** Words of the set-up page. */

import type { CaseFile } from '../protocol/case-types.ts';
import type { Finding } from '../protocol/finding.ts';
import { conditionWords } from './condition-words.ts';
import { setUp } from './en/set-up.ts';
import { heldWords } from './finding-words.ts';
import { spoken } from './language.ts';
import { materialForms, restorationForms } from './material-words.ts';
import { subjectLabel } from './subject-words.ts';

export const setUpWords = spoken('setUp', setUp);

/** A protocol as a choice for a case. */
export const protocolOption = (o: {
  readonly title: string;
  readonly isConfirmed: boolean;
}): string => (o.isConfirmed ? o.title : setUpWords.protocolUnconfirmed(o.title));

const listed = (value: unknown, wordOf: (id: string) => string): readonly string[] =>
  Array.isArray(value) ? value.map((each) => wordOf(String(each))) : [];

/** Why these units are not what the protocol is written for; null when it says nothing of units. */
function unfitWords({ code, values }: Finding, units: readonly string[]): string | null {
  switch (code) {
    case 'material-not-in-protocol': {
      const reasons = setUpWords.unfitMaterial;
      const reason = Object.entries(reasons).find(([key]) => key === values['reason'])?.[1];
      return (reason ?? reasons['other-material'])({
        units,
        material: materialForms(String(values['material'])).inLine,
        written: listed(values['materials'], (id) => materialForms(id).inLine),
      });
    }
    case 'restoration-not-in-protocol':
      return setUpWords.unfitRestoration({
        units,
        kind: restorationForms(String(values['restoration'])),
        written: listed(values['restorations'], (id) => restorationForms(id).all),
      });
    case 'not-asked': {
      const fact = Object.entries(conditionWords.facts).find(([key]) => key === values['fact']);
      return setUpWords.unfitNotAsked({ units, fact: fact?.[1] ?? String(values['fact']) });
    }
    case 'light-cured-thick':
    case 'light-cured-too-thick': {
      const text = code === 'light-cured-thick' ? setUpWords.lightThick : setUpWords.lightTooThick;
      return text({ units, mm: String(values['mm'] ?? ''), most: String(values['mostMm']) });
    }
    case 'light-dose-not-reached':
    case 'light-target-not-reached':
      return setUpWords.lightHeld({
        units,
        step: String(values['title']),
        reached: String(values['reachedJPerCm2']),
        ...heldWords(values),
      });
    case 'light-no-programme':
      return setUpWords.lightNoProgramme({ units, step: String(values['title']) });
    case 'light-product-over':
      return setUpWords.lightProductOver({ units, step: String(values['title']) });
    default:
      // The other findings are about a protocol, not about a case.
      return null;
  }
}

/** A unit of the case by its teeth; a finding may also be about one tooth. */
function labelOf(id: string, spec: CaseFile): string {
  const isUnit = spec.units.some((unit) => unit.id === id);
  return subjectLabel(isUnit ? `unit:${id}` : `tooth:${id}`, spec);
}

/** Why units of a case are not what its protocol is written for: what is said alike, said once. */
export function fitLines(findings: readonly Finding[], spec: CaseFile): readonly string[] {
  const alike = new Map<string, { readonly finding: Finding; readonly units: string[] }>();
  for (const finding of findings) {
    const { id, ...said } = finding.values;
    const key = JSON.stringify([finding.code, said]);
    const group = alike.get(key) ?? { finding, units: [] };
    group.units.push(labelOf(String(id), spec));
    alike.set(key, group);
  }
  return [...alike.values()].flatMap(({ finding, units }) => unfitWords(finding, units) ?? []);
}

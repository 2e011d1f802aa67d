/** What is known about the teeth of a case while it is typed; what is left open was not asked. Pure. */

import type { CaseFile } from '../../protocol/case-types.ts';
import type { Provisional, Substrate, ToothFacts } from '../../protocol/facts.ts';
import { PROVISIONALS, SUBSTRATES } from '../../protocol/vocabulary.ts';
import { without } from './set-up-text.ts';

export interface DraftTooth {
  readonly substrate: readonly Substrate[];
  /** Empty while nobody has said. */
  readonly provisional: Provisional | '';
}

/** By FDI number. Teeth that are taken out keep their answers until the case is saved. */
export type DraftTeeth = Readonly<Record<string, DraftTooth>>;

const OPEN: DraftTooth = { substrate: [], provisional: '' };

export const toothDraft = (teeth: DraftTeeth, tooth: string): DraftTooth =>
  Object.hasOwn(teeth, tooth) ? (teeth[tooth] ?? OPEN) : OPEN;

export function teethDraft(spec: Pick<CaseFile, 'teeth'> | undefined): DraftTeeth {
  const known = spec?.teeth ?? [];
  return Object.fromEntries(
    known.map(({ tooth, substrate = [], provisional }): [string, DraftTooth] => [
      tooth,
      { substrate, provisional: provisional ?? '' },
    ]),
  );
}

/** The facts of the bonded teeth as a file has them; undefined where nothing is known. */
export function teethFile(
  teeth: DraftTeeth,
  bonded: readonly string[],
): readonly Record<string, unknown>[] | undefined {
  const known = bonded.flatMap((tooth) => {
    const { substrate, provisional } = toothDraft(teeth, tooth);
    if (substrate.length === 0 && provisional === '') return [];
    return [
      without({
        tooth,
        substrate: substrate.length === 0 ? undefined : substrate,
        provisional: provisional === '' ? undefined : provisional,
      } satisfies Record<keyof ToothFacts, unknown>),
    ];
  });
  return known.length === 0 ? undefined : known;
}

/** One value more or less, in the order of the list; two that contradict each other never stand. */
export function toggled(values: readonly Substrate[], value: Substrate): readonly Substrate[] {
  const has = values.includes(value);
  const against = CONTRADICTS[value] ?? [];
  const next = has ? values.filter((v) => v !== value) : [...values, value];
  return SUBSTRATES.filter((v) => next.includes(v) && (has || !against.includes(v)));
}

const CONTRADICTS: Readonly<Partial<Record<Substrate, readonly Substrate[]>>> = {
  enamel: ['no-enamel-margin'],
  'no-enamel-margin': ['enamel'],
};

export const isProvisional = (value: string): value is Provisional =>
  PROVISIONALS.some((one) => one === value);

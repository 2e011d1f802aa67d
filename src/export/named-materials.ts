/**
 * The materials that were named during a case, each with the steps that it was used for: those that
 * ask for its slot and were begun while this lot was the one named. What was begun before any lot
 * was named counts for the first.
 */
import { gs1Elements } from '../calc/udi/gs1.ts';
import { compareHi } from '../engine/axis.ts';
import type { CaseLog } from '../engine/log.ts';
import type { MaterialLot } from '../engine/material-types.ts';
import type { CaseInstant, CaseState } from '../engine/types.ts';
import type { MaterialUse } from './export-source.ts';

type Named = CaseState['materials'][string][number];

/** What was said about a lot when it was taken, by the code that is kept. */
const REMARKS: Readonly<Record<string, string>> = {
  recalled: 'recalled',
  expired: 'past its expiry date',
  'opened-too-long': 'opened longer ago than its instructions allow',
  'still-cold': 'not yet at room temperature',
};

function readable({ issuer, text }: { readonly issuer: string; readonly text: string }): string {
  const bare = text
    .split('\n')
    .map((code) => code.replace(/^\][A-Za-z]\w/, ''))
    .join('\u001d');
  if (issuer !== 'GS1' || bare.startsWith('(')) return bare.replaceAll('\u001d', ' ');
  const { elements } = gs1Elements(bare);
  return elements.map(({ ai, data }) => `(${ai})${data}`).join('');
}

interface Begun {
  readonly step: string;
  readonly subject: string;
  readonly began: CaseInstant;
}

/** Voided runs too: what was on the tooth was on the tooth. */
const everyRun = ({ runs, voided }: CaseState) => [
  ...Object.entries(runs),
  ...voided.map(({ key, run }) => [key, run] as const),
];

const begunOf = new WeakMap<CaseState, readonly Begun[]>();

/** Everything that was begun; every slot asks for it. */
function begun(state: CaseState): readonly Begun[] {
  const known = begunOf.get(state);
  if (known !== undefined) return known;
  const found = everyRun(state).flatMap(([key, run]): Begun[] => {
    const began = run.startedAt ?? run.endedAt;
    if (run.status === 'skipped' || began === null) return [];
    const at = key.indexOf('@');
    return [{ step: key.slice(0, at), subject: key.slice(at + 1), began }];
  });
  begunOf.set(state, found);
  return found;
}

/** Runs of steps that ask for `slot`, each with the lot that was named when it began. */
function usesOf(state: CaseState, slot: string, named: readonly Named[]) {
  const asking = new Set(
    state.opened.protocol.steps.filter((s) => s.uses?.includes(slot)).map((s) => s.id),
  );
  return begun(state).flatMap(({ step, subject, began }) => {
    if (!asking.has(step)) return [];
    const lot = named.findLastIndex((n) => compareHi(n.at, began) <= 0);
    return [{ lot: Math.max(0, lot), use: { step, subject } }];
  });
}

/** Brackets stand in what is printed for people to read: no scanner sends them. */
const isTyped = (text: string): boolean => text.startsWith('(');

function useOf(material: MaterialLot, about: Pick<MaterialUse, 'slot' | 'usedFor'>): MaterialUse {
  const { scanned } = material;
  const scan = scanned === undefined || isTyped(scanned.text) ? null : scanned.text;
  const issuer = scanned?.issuer === 'GS1' || scanned?.issuer === 'HIBC' ? scanned.issuer : null;
  return {
    slot: about.slot,
    materialClass: material.materialClass,
    label: material.label,
    lot: material.lot,
    expiresOn: material.expiry ?? null,
    ...(material.useBy !== undefined && { useBy: material.useBy }),
    producedOn: null,
    serial: material.serial ?? null,
    issuer,
    deviceIdentifier: material.deviceIdentifier ?? null,
    carrier: scanned === undefined ? null : { humanReadable: readable(scanned), scanned: scan },
    entry: scan === null ? 'manual' : 'barcode',
    usedFor: about.usedFor,
    remarks: material.warnings.map((code) => REMARKS[code] ?? code),
  };
}

/** Every lot that was named for a slot, oldest first, with the steps and subjects it was used for. */
export function lotUses(
  state: CaseState,
  slot: string,
): readonly { readonly material: MaterialLot; readonly usedFor: MaterialUse['usedFor'] }[] {
  const named = state.materials[slot] ?? [];
  const uses = named.length === 0 ? [] : usesOf(state, slot, named);
  return named.map(({ material }, index) => ({
    material,
    usedFor: uses.filter((u) => u.lot === index).map((u) => u.use),
  }));
}

/** A lot that was typed for a slot, with the titles of the steps of that slot that were begun. */
interface TypedLot {
  readonly slot: string;
  readonly lot: string;
  readonly steps: readonly string[];
  readonly usedFor: MaterialUse['usedFor'];
}

/** Lots that people typed where the shelf had none to name. */
export function typedLots(state: CaseState): readonly TypedLot[] {
  const { steps } = state.opened.protocol;
  const texts = steps.flatMap(({ id, action }) => {
    const evidence = action.kind === 'confirm' ? action.evidence : undefined;
    if (evidence?.kind !== 'material') return [];
    const { slot } = evidence;
    const runs = everyRun(state).filter(([key]) => key.startsWith(`${id}@`));
    return runs.flatMap(([, run]) => {
      const lot = run.evidence?.trim() ?? '';
      return lot === '' ? [] : [{ slot, lot }];
    });
  });
  const first = texts.filter(
    (text, at) => texts.findIndex((t) => t.slot === text.slot && t.lot === text.lot) === at,
  );
  return first.map(({ slot, lot }) => {
    const using = steps.filter(({ uses }) => uses?.includes(slot));
    const usedFor = begun(state)
      .filter(({ step }) => using.some(({ id }) => id === step))
      .map(({ step, subject }) => ({ step, subject }));
    const used = new Set(usedFor.map(({ step }) => step));
    const titles = using.filter(({ id }) => used.has(id)).map(({ title }) => title);
    return { slot, lot, steps: [...new Set(titles)], usedFor };
  });
}

/** Every lot that was named, slot by slot in the order of the protocol, oldest first. */
export function namedMaterials({ state }: Pick<CaseLog, 'state'>): readonly MaterialUse[] {
  return state.opened.protocol.slots.flatMap(({ id: slot }) =>
    lotUses(state, slot).map(({ material, usedFor }) => useOf(material, { slot, usedFor })),
  );
}

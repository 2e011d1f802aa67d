/** Lots with the teeth they were used on, and shades that were tried, in words. Pure. */
import type { MaterialUse } from '../../../export/export-source.ts';
import type { StepFact } from '../../../export/record-types.ts';
import { exportWords } from '../../../words/export-words.ts';
import { stepOf } from '../../../words/offer-words.ts';
import { recordWords, shadeLine } from '../../../words/record-words.ts';
import { subjectLabel, toothLabel } from '../../../words/subject-words.ts';
import type { RecordNote } from './record-changes-model.ts';
import { instantWords, type RecordFrame } from './record-frame.ts';

export interface MaterialLine {
  readonly id: string;
  readonly title: string;
  readonly materialClass: string;
  readonly lot: string;
  readonly isLotKnown: boolean;
  /** It was marked as recalled when it was named. */
  readonly isRecalled: boolean;
  /** The label as people read it; empty when it was typed. */
  readonly code: string;
  /** The last day of use: of the label, or after opening. */
  readonly expires: string;
  readonly teeth: string;
  readonly steps: string;
  /** "past its expiry date". */
  readonly remarks: string;
}

type Used = MaterialUse['usedFor'];

/** Teeth in the order of the case, each once. */
function teethOf(frame: RecordFrame, uses: Used): string {
  const byKey = new Map<string, StepFact>();
  for (const fact of [...frame.facts.voided, ...frame.facts.steps]) byKey.set(fact.key, fact);
  const found = new Set(uses.flatMap((u) => byKey.get(`${u.step}@${u.subject}`)?.teeth ?? []));
  const order = frame.facts.units.flatMap((u) => u.teeth.map((t) => t.fdi));
  const used = order.filter((fdi) => found.has(fdi));
  return recordWords.list(used.map((fdi) => toothLabel(fdi, frame.facts.notation)));
}

function stepsOf(frame: RecordFrame, used: Used): string {
  const titles = used.map((u) => stepOf(frame.scene.protocol, u.step)?.title ?? u.step);
  return recordWords.list([...new Set(titles)]);
}

function lineOf(frame: RecordFrame, use: MaterialUse, n: number): MaterialLine {
  return {
    id: `${use.slot ?? ''}/${n}`,
    title: use.label,
    materialClass: use.materialClass,
    lot: use.lot ?? recordWords.noLot,
    isLotKnown: use.lot !== null,
    isRecalled: use.remarks.includes('recalled'),
    code: use.carrier?.humanReadable ?? '',
    expires: use.useBy ?? use.expiresOn ?? '',
    teeth: teethOf(frame, use.usedFor),
    steps: stepsOf(frame, use.usedFor) || recordWords.notUsed,
    remarks: recordWords.several(use.remarks),
  };
}

/** Each lot that was named, then each slot that was used without one. */
export function recordMaterials(frame: RecordFrame): MaterialLine[] {
  const { materials, slots } = frame.facts;
  const named = new Set(materials.map((m) => m.slot));
  const unnamed = slots.filter((s) => s.usedFor.length > 0 && !named.has(s.slot));
  return [
    ...materials.map((use, n) => lineOf(frame, use, n)),
    ...unnamed.map(({ slot, label, materialClass, usedFor }) => {
      const used = usedFor.map((key) => {
        const [step = '', subject = ''] = key.split('@');
        return { step, subject };
      });
      return {
        id: slot,
        title: label,
        materialClass,
        lot: recordWords.noLot,
        isLotKnown: false,
        isRecalled: false,
        code: '',
        expires: '',
        teeth: teethOf(frame, used),
        steps: stepsOf(frame, used),
        remarks: '',
      };
    }),
  ];
}

/** Shades in the order they were tried. */
export function recordShades(frame: RecordFrame): RecordNote[] {
  const { facts, scene } = frame;
  return facts.shades.map((shade, n) => {
    const share = shade.sharePercent === null ? '' : `${shade.sharePercent} %`;
    const parts = [shade.paste, shade.modifier ?? '', share].filter((w) => w !== '');
    return {
      id: String(n),
      moment: instantWords(frame, shade.at),
      words: shadeLine({
        subject: subjectLabel(shade.subject, scene.spec),
        paste: recordWords.paste(parts),
        result: exportWords.shadeResults[shade.result],
        judgedBy: shade.judgedBy,
      }),
      who: '',
      ...(shade.note === null ? {} : { detail: shade.note }),
    };
  });
}

/** An invented sheet of an etching gel, bound to the etch of the shipped veneers. For tests only. */
import { parseSheet } from '../../src/protocol/sheet-schema.ts';
import type { ProductSheet, SheetLine } from '../../src/protocol/sheet-types.ts';

const PROTOCOL = 'thin-veneers-separate-bottle-etch-and-rinse';

const read = { how: 'typed', by: 'Clinic lead C', on: '2026-05-04' } as const;

const etch = (key: string): SheetLine['spots'] => [
  { protocol: PROTOCOL, part: 'steps', id: 'etch', key },
];

export function etchingGelSheet(): ProductSheet {
  const parsed = parseSheet({
    format: 'lutewatch-sheet',
    formatVersion: 1,
    id: 'sheet-gel',
    materialClass: 'phosphoric acid gel, 30 to 40 %',
    document: 'Etching gel, instructions for use',
    revision: '2026-04',
    date: '2026-04-02',
    pages: '1 to 4',
    deviceIdentifiers: ['09506000134352'],
    lines: [
      {
        id: 'enamel',
        group: 'etch',
        title: 'on enamel',
        value: 30,
        unit: 's',
        bound: 'target',
        asWritten: 'Leave on enamel for 30 seconds.',
        page: '2',
        spots: etch('action.targetMs'),
        read,
      },
      {
        id: 'enamel-most',
        group: 'etch',
        title: 'on enamel',
        value: 60,
        unit: 's',
        bound: 'most',
        asWritten: 'At most 60 s.',
        page: '2',
        spots: etch('action.maxMs'),
        read,
      },
      {
        id: 'rinse',
        group: 'rinse',
        value: 15,
        unit: 's',
        bound: 'target',
        asWritten: 'Rinse for 15 seconds.',
        page: '3',
        spots: [],
        read,
      },
    ],
  });
  if (!parsed.ok) throw new Error(parsed.error[0].place);
  return parsed.value;
}
